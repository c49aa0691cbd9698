"""Posterior of a panel's mean wet film from comb intervals, on a fine grid (numpy, scipy). Writes ../data/comb_posterior.json.

Model: dab ~ N(mu, (s mu)^2) seen through its interval, mu flat on (half the lowest edge, twice the longest edge],
ln s ~ N(ln 0.06, 0.5) cut at six standard deviations.
"""

import json
import pathlib

import numpy as np
from scipy.stats import norm

CASES = [
    [[200, 250, 3]],
    [[200, 250, 1]],
    [[125, 150, 5]],
    [[100, 125, 2], [125, 150, 3]],
    [[100, 125, 2], [125, 150, 5], [150, 200, 1]],
    [[None, 25, 2], [25, 50, 5], [50, 75, 1]],
    [[150, 200, 2], [200, 250, 3], [250, None, 2]],
    [[None, 25, 3]],
    [[112.5, 137.5, 1], [125, 150, 4]],
]


def posterior(cells):
    lows = [c[0] if c[0] is not None else 0.0 for c in cells]
    edges = [e for c in cells for e in c[:2] if e is not None]
    mu = np.linspace(0.5 * min(lows), 2 * max(edges), 6001)
    mu = 0.5 * (mu[1:] + mu[:-1])
    z = np.linspace(-6, 6, 121)
    s = 0.06 * np.exp(0.5 * z)
    logp = np.repeat(norm.logpdf(z)[None, :], len(mu), axis=0)
    for low, high, count in cells:
        sd = mu[:, None] * s[None, :]
        a = -np.inf if low is None else (low - mu[:, None]) / sd
        b = np.inf if high is None else (high - mu[:, None]) / sd
        upper = norm.sf(a) - norm.sf(b)
        lower = norm.cdf(b) - norm.cdf(a)
        p = np.where(np.broadcast_to(a, sd.shape) > 0, upper, lower)
        logp += count * np.log(np.maximum(p, 1e-300))
    p = np.exp(logp - logp.max()).sum(axis=1)
    p /= p.sum()
    mean = (p * mu).sum()
    sd = np.sqrt((p * (mu - mean) ** 2).sum())
    cdf = np.cumsum(p) - 0.5 * p
    q = np.interp([0.025, 0.975], cdf, mu)
    return {"cells": cells, "mean": mean, "sd": sd, "q025": q[0], "q975": q[1]}


here = pathlib.Path(__file__).parent
rows = [posterior(cells) for cells in CASES]
text = "[\n" + ",\n".join(json.dumps(row) for row in rows) + "\n]\n"
(here / "../data/comb_posterior.json").write_text(text)
