"""Final build by comb and scale with a skewed forecast of the final weight, by plain sampling without any linearisation
(numpy). Writes ../data/route_sampling.json."""

import json
import pathlib

import numpy as np

rng = np.random.default_rng(20260301)
N = 4_000_000
CASES = [
    # wet film, u, bias u, wet mass, final weight below which log-normal amounts are left: (top, ln median, ln sd)
    dict(film=225.0, u=14.4, bias=5.6, wet=582.31, u_wet=0.03, top=576.5, ln_median=0.4, ln_sd=0.7, area=900.0, u_area=9.0),
    dict(film=150.0, u=5.0, bias=3.75, wet=582.31, u_wet=0.05, top=577.0, ln_median=-0.5, ln_sd=0.9, area=900.0, u_area=9.0),
    dict(film=120.0, u=4.0, bias=3.0, wet=106.90, u_wet=0.01, top=106.0, ln_median=-1.6, ln_sd=0.5, area=150.0, u_area=1.5),
]
rows = []
for case in CASES:
    film = case["film"] + rng.normal(0, case["u"], N) + rng.normal(0, case["bias"], N)
    final = case["top"] - np.exp(rng.normal(case["ln_median"], case["ln_sd"], N))
    wet = case["wet"] + rng.normal(0, case["u_wet"], N)
    area = case["area"] + rng.normal(0, case["u_area"], N)
    rho = 0.87 + rng.normal(0, 0.03, N)
    build = film - 1e4 * (wet - final) / (rho * area)
    low, high = np.quantile(build, [0.025, 0.975])
    rows.append({**case, "mean": build.mean(), "sd": build.std(), "low": low, "high": high})

here = pathlib.Path(__file__).parent
(here / "../data/route_sampling.json").write_text("[\n" + ",\n".join(json.dumps(row) for row in rows) + "\n]\n")
