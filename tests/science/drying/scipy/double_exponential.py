"""Double exponential fits of the 20 public scenarios by scipy, as a yardstick for intervals.

m(t) = c + a1 exp(-t/T1) + a2 exp(-t/T2), all parameters positive, least squares on the readings (drift removed by the
blank's own difference, nothing set aside), textbook 95 % interval of c: +- t(0.975, n - 5) sd from the covariance.

    python -m venv venv && venv/bin/pip install numpy scipy && venv/bin/python double_exponential.py

writes double_exponential.json beside this file. Deterministic for one version of scipy; that version is written down.
"""

import json
import pathlib

import numpy as np
import scipy
from scipy.optimize import least_squares
from scipy.stats import t as student

HERE = pathlib.Path(__file__).parent
CUTS_H = [24, 48, 96, 168, 336, 504]


def model(p, t):
    return p[0] + p[1] * np.exp(-t / p[2]) + p[3] * np.exp(-t / p[4])


def start(y):
    loss = max(y[0] - y[-1], 0.1)
    return [max(y[-1] - 0.05 * loss, 0.1), 0.6 * loss, 2.0, 0.4 * loss, 50.0]


def fit(t, y):
    low, high = [0.0, 0.0, 0.01, 0.0, 0.01], [np.inf, np.inf, 1e4, np.inf, 1e4]
    return least_squares(lambda p: model(p, t) - y, start(y), bounds=(low, high), x_scale="jac", max_nfev=2000)


def main():
    scenarios = json.loads((HERE / "../data/public_scenarios.json").read_text())["scenarios"]
    rows = []
    for s in scenarios:
        for cut in CUTS_H:
            w = [r for r in s["weigh"] if r["t_h"] <= 1.04 * cut + 0.1]
            t = np.array([r["t_h"] for r in w])
            drift = np.array([r["control_g"] - w[0]["control_g"] for r in w])
            y = np.array([r["gross_g"] for r in w]) - s["tare_reading"] - drift
            r = fit(t, y)
            dof = len(t) - 5
            row = {"id": s["id"], "cut_h": cut, "n": len(t), "plateau_g": round(float(r.x[0]), 4), "sd_g": None}
            if dof > 0:
                variance = 2 * r.cost / dof
                covariance = np.linalg.pinv(r.jac.T @ r.jac) * variance
                sd = float(np.sqrt(covariance[0, 0]))
                row["sd_g"] = round(sd, 4)
                row["half_width_g"] = round(float(student.ppf(0.975, dof)) * sd, 4)
            rows.append(row)
    out = {"scipy": scipy.__version__, "rows": rows}
    text = json.dumps(out).replace('{"id"', '\n{"id"').replace("]}", "\n]}\n")
    (HERE / "double_exponential.json").write_text(text)


if __name__ == "__main__":
    main()
