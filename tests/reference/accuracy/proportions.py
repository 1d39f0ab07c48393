"""Limits of one proportion by statsmodels, and by R for Wilson with continuity correction.

Run: /usr/bin/python3 tests/reference/accuracy/proportions.py > tests/reference/accuracy/proportions.json
statsmodels 0.13.5, scipy 1.10.1. Clopper-Pearson, Jeffreys and Wald, Agresti-Coull as statsmodels
has them; "wilson-cc" by R 4.2.2 prop.test(correct = TRUE) where |x/n - limit| leaves the correction
whole, typed in the test.
"""
import json
from statsmodels.stats.proportion import proportion_confint

names = {"wilson": "wilson", "clopper-pearson": "beta", "agresti-coull": "agresti_coull",
         "jeffreys": "jeffreys", "wald": "normal"}
rows = []
for level in (0.8, 0.95, 0.999):
    for n in (1, 2, 7, 20, 137, 1071, 50000):
        for x in sorted({0, 1, n // 3, n // 2, n - 1, n}):
            for name, method in names.items():
                low, high = proportion_confint(x, n, alpha=1 - level, method=method)
                if name == "clopper-pearson":
                    low, high = (0.0 if x == 0 else low), (1.0 if x == n else high)
                rows.append([x, n, level, name, float(low), float(high)])
print(json.dumps(rows))
