"""Difference of two candidates whose forecasts are skewed, by plain sampling (numpy): what is shared by a candidate's panels
is one log-normal error for all of them, what is the panels' own is normal and known (no scatter between panels), and one
normal error is shared by both candidates' panels with different slopes. Writes ../data/difference_sampling.json."""

import json
import pathlib

import numpy as np

rng = np.random.default_rng(20260302)
N = 4_000_000
# Per candidate: panels (value, own u, amount still to lose as median and sd of its logarithm, slope by the comb).
CASES = [
    [[(80.0, 2.0, 6.0, 0.8, 2.0)], [(70.0, 2.0, 2.0, 0.8, 1.8)]],
    [[(80.0, 1.0, 9.0, 0.6, 2.0), (83.0, 1.0, 7.0, 0.6, 2.1)], [(60.0, 1.5, 0.3, 0.4, 1.5)]],
    [[(50.0, 0.5, 12.0, 1.0, 0.0), (51.0, 0.5, 3.0, 0.2, 0.0), (52.0, 0.5, 0.5, 0.2, 0.0)], [(48.0, 0.5, 12.0, 1.0, 0.0)]],
]
rows = []
for case in CASES:
    comb = rng.normal(0, 1, N)
    total = np.zeros(N)
    for sign, panels in zip((1, -1), case):
        shared = rng.normal(0, 1, N)
        for value, own, median, ln_sd, by_comb in panels:
            # What goes is taken off; the value stated is the mean.
            mean = median * np.exp(0.5 * ln_sd**2)
            error = mean - median * np.exp(ln_sd * shared)
            total += sign * (value + error + by_comb * comb) / len(panels)
        # Beside a single panel the scatter between the others' values counts as known.
        values = [panel[0] for panel in panels]
        own = panels[0][1] if len(panels) == 1 else np.std(values, ddof=1) / np.sqrt(len(panels))
        total += rng.normal(0, own, N)
    low, high = np.quantile(total, [0.025, 0.975])
    rows.append({"candidates": case, "mean": total.mean(), "low": low, "high": high})

here = pathlib.Path(__file__).parent
(here / "../data/difference_sampling.json").write_text("[\n" + ",\n".join(json.dumps(row) for row in rows) + "\n]\n")
