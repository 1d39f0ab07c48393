"""Reference values for curves and areas on random tied data.

Run: /usr/bin/python3 tests/reference/thresholds/curves.py > tests/reference/thresholds/curves.json
"""
import json
import numpy as np
import scipy
import sklearn
from scipy.stats import mannwhitneyu
from sklearn.metrics import roc_auc_score, roc_curve

cases = []
for seed, (n, steps, shift) in enumerate([(40, 5, 1), (200, 12, 2), (300, 40, 6), (60, 3, 0)]):
    rng = np.random.default_rng(seed)
    y = (rng.random(n) < 0.35).astype(int)
    x = np.round(rng.normal(size=n) * steps / 3 + shift * y) * 0.25
    w = np.round(rng.random(n) * 3 + 0.5, 2)
    fpr, tpr, cut = roc_curve(y, x, drop_intermediate=False)
    cases.append({
        "values": x.tolist(), "condition": y.tolist(), "weights": w.tolist(),
        "cutOffs": cut[1:].tolist(), "falsePositiveRate": fpr.tolist(), "truePositiveRate": tpr.tolist(),
        "area": roc_auc_score(y, x),
        "weightedArea": roc_auc_score(y, x, sample_weight=w),
        "standardisedPartial": {str(m): roc_auc_score(y, x, max_fpr=m) for m in (0.05, 0.1, 0.2, 0.5)},
        "mannWhitneyU": mannwhitneyu(x[y == 1], x[y == 0]).statistic,
    })
print(json.dumps({"scikit-learn": sklearn.__version__, "scipy": scipy.__version__,
                  "numpy": np.__version__, "cases": cases}))
