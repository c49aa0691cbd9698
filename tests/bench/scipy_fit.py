"""Times scipy's double exponential fit on the panels given as JSON lines on standard input; prints ms a fit."""

import json
import pathlib
import sys
import time

import numpy as np

sys.path.insert(0, str(pathlib.Path(__file__).parent / "../science/drying/scipy"))
from double_exponential import fit  # noqa: E402

out = []
for line in sys.stdin:
    case = json.loads(line)
    t, y = np.array(case["t"]), np.array(case["y"])
    best = float("inf")
    for _ in range(20):
        start = time.perf_counter()
        fit(t, y)
        best = min(best, time.perf_counter() - start)
    out.append(1e3 * best)
print(json.dumps(out))
