"""McNemar, kappa, differences of proportions and group tests by statsmodels and scipy.

Run: /usr/bin/python3 tests/reference/accuracy/comparisons.py > tests/reference/accuracy/comparisons.json
statsmodels 0.13.5, scipy 1.10.1.
"""
import json
import numpy as np
from scipy import stats
from statsmodels.stats.contingency_tables import mcnemar
from statsmodels.stats.inter_rater import cohens_kappa
from statsmodels.stats.proportion import confint_proportions_2indep

out = {"mcnemar": [], "kappa": [], "independent": [], "groups": []}
for b, c in [(1, 7), (5, 5), (0, 12), (40, 63), (150, 86), (300, 341), (0, 1)]:
    table = [[10, b], [c, 20]]
    exact = mcnemar(table, exact=True)
    plain = mcnemar(table, exact=False, correction=False)
    # Lancaster 1961: splits less likely than this one, and half of those as likely;
    # 1 - P(X = b) / 2 at b = c, as in Fagerland, Lydersen and Laake 2013
    chance = stats.binom.pmf(np.arange(b + c + 1), b + c, 0.5)
    here = chance[b]
    less = chance < here * (1 - 1e-9)
    mid = chance[less].sum() + chance[~less & (chance <= here * (1 + 1e-9))].sum() / 2
    out["mcnemar"].append([b, c, float(plain.statistic), float(plain.pvalue), float(exact.pvalue), float(mid)])
women = [[1520, 266, 124, 66], [234, 1512, 432, 78], [117, 362, 1772, 205], [36, 82, 179, 492]]
couples = [[7, 2, 1, 2], [7, 8, 5, 8], [2, 3, 4, 9], [3, 7, 9, 14]]
for name, table in [("women", women), ("couples", couples)]:
    for kind, wt in [("none", None), ("linear", "linear"), ("quadratic", "quadratic")]:
        k = cohens_kappa(np.array(table), wt=wt)
        out["kappa"].append([name, table, kind, float(k.kappa), float(k.std_kappa)])
for x1, n1, x2, n2 in [(5, 56, 0, 29), (7, 34, 1, 34), (56, 70, 48, 80), (389, 404, 420, 424), (0, 10, 10, 10)]:
    low, high = confint_proportions_2indep(x1, n1, x2, n2, method="newcomb", compare="diff")
    out["independent"].append([x1, n1, x2, n2, float(low), float(high)])
for pairs in [[(8, 10), (18, 20), (5, 9)], [(120, 130), (200, 260)], [(3, 7), (4, 8), (9, 30), (1, 3)]]:
    table = [[x, n - x] for x, n in pairs]
    chi2, p, df, _ = stats.chi2_contingency(table, correction=False)
    out["groups"].append([pairs, float(chi2), int(df), float(p)])
print(json.dumps(out))
