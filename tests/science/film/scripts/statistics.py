"""Student's t, Welch, Holm and power for cases of this worksheet's size (scipy, statsmodels). Writes ../data/statistics.json."""

import json
import pathlib

import numpy as np
from scipy import stats
from statsmodels.stats.multitest import multipletests
from statsmodels.stats.power import TTestIndPower
from statsmodels.stats.weightstats import CompareMeans, DescrStatsW

rng = np.random.default_rng(7)
t = [dict(p=p, df=df, q=stats.t.ppf(p, df)) for p in (0.6, 0.9, 0.975, 0.995) for df in (1, 1.5, 2.3, 4, 9.7, 60, 2000)]
welch = []
for n, m in ((2, 2), (2, 5), (3, 3), (6, 4)):
    x, y = rng.normal(80, 3, n).round(1), rng.normal(76, 1.5, m).round(1)
    test = stats.ttest_ind(x, y, equal_var=False)
    low, high = CompareMeans(DescrStatsW(x), DescrStatsW(y)).tconfint_diff(usevar="unequal")
    welch.append(dict(x=x.tolist(), y=y.tolist(), t=test.statistic, df=test.df, p=test.pvalue, low=low, high=high))
holm = []
for n in (1, 3, 6, 10):
    p = rng.uniform(0, 0.2, n).round(4)
    holm.append(dict(p=p.tolist(), holm=multipletests(p, method="holm")[1].tolist()))
power = [
    dict(effect=e, n=n, alpha=a, power=TTestIndPower().power(e, n, a))
    for e in (0.0, 0.5, 1.0, 2.5)
    for n in (2, 4, 12, 60)
    for a in (0.05, 0.05 / 3)
]
# The library gives no number where the power is 1 to all digits.
power = [row for row in power if np.isfinite(row["power"])]
here = pathlib.Path(__file__).parent
out = dict(t=t, welch=welch, holm=holm, power=power)
lines = ",\n".join(f' "{k}": [\n  ' + ",\n  ".join(json.dumps(r) for r in v) + "\n ]" for k, v in out.items())
(here / "../data/statistics.json").write_text("{\n" + lines + "\n}\n")
