"""Wet film to spray and price per m² for a wanted dry build, by plain sampling of normal inputs (numpy). Writes
../data/spread_sampling.json."""

import json
import pathlib

import numpy as np

rng = np.random.default_rng(20260303)
N = 4_000_000
CASES = [
    dict(wanted=75.0, sanding=0.0, price=38.0, vs=0.45, u_vs=0.02, th=0.0, u_th=0.0, te=0.5, u_te=0.05),
    dict(wanted=80.0, sanding=20.0, price=24.5, vs=0.38, u_vs=0.01, th=0.1, u_th=0.01, te=0.65, u_te=0.04),
    dict(wanted=60.0, sanding=15.0, price=31.0, vs=0.55, u_vs=0.03, th=0.05, u_th=0.01, te=0.3, u_te=0.03),
]
rows = []
for case in CASES:
    vs = rng.normal(case["vs"], case["u_vs"], N)
    th = rng.normal(case["th"], case["u_th"], N)
    te = rng.normal(case["te"], case["u_te"], N)
    dry = case["wanted"] + case["sanding"]
    wet = np.quantile(dry * (1 + th) / vs, [0.025, 0.975])
    # Per litre of the mix as it is: the solids that are given are those of the mix.
    price = np.quantile(case["price"] * dry / (1000 * vs * te), [0.025, 0.975])
    rows.append({**case, "wet": list(wet), "price_m2": list(price)})

here = pathlib.Path(__file__).parent
(here / "../data/spread_sampling.json").write_text("[\n" + ",\n".join(json.dumps(row) for row in rows) + "\n]\n")
