"""Sizes and powers of planned studies by scipy alone, each from its definition.

Run: /usr/bin/python3 tests/reference/planning/reference.py > tests/reference/planning/reference.json
scipy 1.10.1. Binomial sums are written out over the counts; Lu's power by the noncentral t (one
limit) and by integration over the SD (both limits); nothing here searches cleverly.
"""
import json
import numpy as np
from scipy import stats, integrate

out = {}

# lower ends of intervals by formula
def wilson_low(x, n, level):
    z = stats.norm.ppf((1 + level) / 2)
    p = x / n
    return (p + z*z/(2*n) - z*np.sqrt(p*(1-p)/n + z*z/(4*n*n))) / (1 + z*z/n)

def exact_low(x, n, level):
    return 0.0 if x == 0 else stats.beta.ppf((1 - level) / 2, x, n - x + 1)

lows = {"wilson": wilson_low, "clopper-pearson": exact_low}

def power(n, expected, minimum, level, method):
    x = np.arange(n + 1)
    low = np.array([lows[method](k, n, level) for k in x])
    return float(stats.binom.pmf(x, n, expected)[low > minimum].sum())

out["goalPower"] = [
    [n, e, m, level, method, power(n, e, m, level, method)]
    for method in lows for level in (0.9, 0.95) for e, m in ((0.9, 0.8), (0.85, 0.75), (0.95, 0.9))
    for n in (5, 40, 111, 112, 113, 250)]

# from which n does the power of one goal stay at .8 (looked at to 400)
def staying(e, m, level, method, wanted):
    powers = np.array([power(n, e, m, level, method) for n in range(1, 401)])
    return int(np.max(np.where(powers < wanted)[0])) + 2

out["staying"] = [
    [e, m, 0.95, method, 0.8, staying(e, m, 0.95, method, 0.8)]
    for method in lows for e, m in ((0.9, 0.8), (0.85, 0.7))]

# joint power of a cohort of N, summed over numbers with and without the condition
def joint(N, se, sp, prevalence, lost, mins, level, method):
    total = 0.0
    pse = [0.0] + [power(n, se, mins[0], level, method) for n in range(1, N + 1)]
    psp = [0.0] + [power(n, sp, mins[1], level, method) for n in range(1, N + 1)]
    for k in range(N + 1):
        a = stats.binom.pmf(k, N, 1 - lost)
        if a < 1e-15: continue
        x = np.arange(k + 1)
        w = stats.binom.pmf(x, k, prevalence)
        total += a * float(sum(w[i] * pse[i] * psp[k - i] for i in x))
    return total

out["joint"] = [[150, 0.9, 0.85, 0.4, 0.1, [0.75, 0.7], 0.95, m,
                 joint(150, 0.9, 0.85, 0.4, 0.1, [0.75, 0.7], 0.95, m)] for m in lows]

# half-width of the expected interval, at numbers that are not whole
def widths(p, n, level):
    z = stats.norm.ppf((1 + level) / 2)
    wl = wilson_low(p*n, n, level); wh = 1 - wilson_low((1-p)*n, n, level)
    cl = stats.beta.ppf((1-level)/2, p*n, n-p*n+1); ch = stats.beta.ppf((1+level)/2, p*n+1, n-p*n)
    return [(wh-wl)/2, (ch-cl)/2, z*np.sqrt(p*(1-p)/n)]
out["halfWidth"] = [[p, n, level, *map(float, widths(p, n, level))]
                    for p in (0.6, 0.9, 0.97) for n in (12.5, 40, 171.3) for level in (0.9, 0.95)]

# agreement: exact and Lu's factor
z = stats.norm.ppf(0.975)
def factor(kind, n):
    if kind == "exact":
        return stats.nct.ppf(0.975, n - 1, z*np.sqrt(n)) / np.sqrt(n)
    df = n - 1 if kind == "lu-2016" else n
    return z + stats.t.ppf(0.975, n - 1) * np.sqrt(1/n + z*z/(2*df))

def one_limit(n, f, bias, sd, within):
    # P(mean + f s < within)
    return float(1 - stats.nct.cdf(f*np.sqrt(n), n - 1, (within - bias)/sd*np.sqrt(n)))

def both(n, f, bias, sd, within):
    r = np.sqrt(n)/sd
    def inner(u):  # u = s / sd
        a, b = (within - bias)*r - f*u*np.sqrt(n), (-within - bias)*r + f*u*np.sqrt(n)
        return 0.0 if a <= b else (stats.norm.cdf(a) - stats.norm.cdf(b)) * stats.chi2.pdf((n-1)*u*u, n-1)*2*(n-1)*u
    top = within/(f*sd)
    lo, hi = max(0, 1 - 12/np.sqrt(2*n)), min(top, 1 + 12/np.sqrt(2*n))
    return float(integrate.quad(inner, lo, hi, epsabs=1e-12, epsrel=1e-12, limit=500)[0])

out["agreement"] = []
for kind in ("exact", "approximate", "lu-2016"):
    for n, bias, sd, within in ((82, .001167, .001129, .004), (83, .001167, .001129, .004), (97, .001167, .001129, .004),
                                (30, 0, 0.5, 1.5), (60, -0.1, 0.5, 1.5)):
        f = factor(kind, n)
        out["agreement"].append([kind, n, bias, sd, within, float(f), one_limit(n, f, bias, sd, within), both(n, f, bias, sd, within)])

# repeats: relative half-width of the chi-square interval of an SD
out["repeats"] = [[df, float((np.sqrt(df/stats.chi2.ppf(.025, df)) - np.sqrt(df/stats.chi2.ppf(.975, df)))/2)]
                  for df in (5, 50, 195, 196, 1000)]
print(json.dumps(out))
