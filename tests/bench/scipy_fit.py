"""Times scipy's double exponential fits on the panels given as JSON lines on standard input.

Two fits of the same curve from the same start: `bounded`, all parameters positive (trust region reflective, as in
double_exponential.py), and `unbounded`, MINPACK's Levenberg-Marquardt through scipy.optimize.curve_fit, the quickest
that scipy offers and the least careful: nothing keeps an amplitude or a time constant positive. Prints a list of
{"bounded": ms, "unbounded": ms}, the best of 20 each; a fit that fails counts for the time it took to fail.
"""

import json
import pathlib
import sys
import time
import warnings

import numpy as np
from scipy.optimize import curve_fit

sys.path.insert(0, str(pathlib.Path(__file__).parent / "../science/drying/scipy"))
from double_exponential import fit, model, start  # noqa: E402


def fit_unbounded(t, y):
    try:
        curve_fit(lambda t, *p: model(p, t), t, y, p0=start(y), method="lm", maxfev=2000)
    except RuntimeError:
        pass


def best_ms(of, t, y):
    best = float("inf")
    for _ in range(20):
        began = time.perf_counter()
        of(t, y)
        best = min(best, time.perf_counter() - began)
    return 1e3 * best


warnings.simplefilter("ignore")
out = []
for line in sys.stdin:
    case = json.loads(line)
    t, y = np.array(case["t"]), np.array(case["y"])
    out.append({"bounded": best_ms(fit, t, y), "unbounded": best_ms(fit_unbounded, t, y)})
print(json.dumps(out))
