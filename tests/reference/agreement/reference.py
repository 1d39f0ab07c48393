# Reference values for tests/agreement: python3 reference.py (scipy 1.10.1, statsmodels 0.13.5).
import numpy as np
from scipy import stats

large = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427]
mini = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451]
large, mini = np.array(large, float), np.array(mini, float)
d = large - mini
print("paired t", stats.ttest_rel(large, mini))
print("wilcoxon approx", stats.wilcoxon(d, correction=True, mode="approx"))
print("wilcoxon exact (no ties)", stats.wilcoxon([1.5, -2.1, 3.3, 4.7, -0.2, 6.1, 7.9], mode="exact"))
print("skew, excess kurtosis", stats.skew(d), stats.kurtosis(d))
x = np.arange(1, 13, dtype=float)
y = np.array([2.1, 2.9, 4.2, 4.8, 6.5, 6.9, 8.4, 8.8, 10.1, 11.3, 11.8, 13.4])
g = np.repeat(np.arange(6), 2)
import statsmodels.api as sm
age = np.array([3, 3, 4, 4, 5, 5, 7, 7, 6, 6, 8, 8], float)
fit = sm.OLS(y - x, sm.add_constant(np.column_stack([age, x]))).fit(
    cov_type="cluster", cov_kwds={"groups": g}, use_t=True)
print("cluster-robust", fit.params, fit.bse, fit.pvalues)
plain = sm.OLS(y - x, sm.add_constant(np.column_stack([age, x]))).fit()
print("classical", plain.params, plain.bse, plain.pvalues, plain.fvalue, plain.f_pvalue)
