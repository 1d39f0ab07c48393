"""Times of the customary ways in numpy and scikit-learn, and of the counting idea written in numpy.

Reads one line of JSON {"task", "file", "n", "replicates"} from standard input; `file` holds
condition (1 byte a row), then values (8 bytes a row). Prints, for one replicate of each way, lists
of seconds by the clock and of seconds of processor time.
Run by tests/bench/areas.mjs.
"""
import json
import sys
import time

import numpy as np
from sklearn.metrics import roc_auc_score


def read(file, n):
    raw = open(file, "rb").read()
    return np.frombuffer(raw[:n], dtype=np.uint8).astype(int), np.frombuffer(raw[n:], dtype=np.float64).copy()


def area_of_sorted(y):
    """Area from conditions in ascending order of distinct-as-is values; ties handled by the caller."""
    controls = np.cumsum(1 - y)
    return (controls * y).sum() / (y.sum() * (len(y) - y.sum()))


def area_by_sorting(y, x):
    """Mann-Whitney with ties: one sort of the resample, run ends by comparison of neighbours."""
    order = np.argsort(x)
    xs, ys = x[order], y[order]
    last = np.r_[xs[1:] != xs[:-1], True]
    cases = np.diff(np.r_[0, np.cumsum(ys)[last]])
    all_rows = np.diff(np.r_[-1, np.flatnonzero(last)])
    controls = all_rows - cases
    below = np.cumsum(controls) - controls
    return (cases * (below + controls / 2)).sum() / (cases.sum() * controls.sum())


def area_of_counts(cases, controls):
    below = np.cumsum(controls, axis=-1) - controls
    return (cases * (below + controls / 2)).sum(-1) / (cases.sum(-1) * controls.sum(-1))


def timed(run, replicates):
    run()
    clock, processor = [], []
    for _ in range(replicates):
        begun = time.perf_counter(), time.process_time()
        run()
        clock.append(time.perf_counter() - begun[0])
        processor.append(time.process_time() - begun[1])
    return {"clock": clock, "processor": processor}


given = json.loads(sys.stdin.readline())
n, replicates = given["n"], given["replicates"]
y, x = read(given["file"], n)
rng = np.random.default_rng(1)

if given["task"] == "rows":
    def customary():
        rows = rng.integers(0, n, n)
        return roc_auc_score(y[rows], x[rows])

    start = time.perf_counter()
    values, cell = np.unique(x, return_inverse=True)
    k = len(values)
    counts = np.bincount(cell + k * y, minlength=2 * k)
    prepared = time.perf_counter() - start

    def counting():
        drawn = rng.multinomial(n, counts / n)
        return area_of_counts(drawn[k:], drawn[:k])

    print(json.dumps({"customary": timed(customary, replicates), "counting": timed(counting, replicates),
                      "prepare": prepared, "area": roc_auc_score(y, x)}))
elif given["task"] == "children":
    m = n // 2
    pairs = np.arange(n).reshape(m, 2)

    def customary():
        rows = pairs[rng.integers(0, m, m)].ravel()
        return area_by_sorting(y[rows], x[rows])

    start = time.perf_counter()
    values, cell = np.unique(x, return_inverse=True)
    k = len(values)
    code = (cell + k * y).reshape(m, 2)
    code.sort(axis=1)
    types, of_child, counts = np.unique(code[:, 0] * (2 * k) + code[:, 1], return_inverse=True, return_counts=True)
    first, second = types // (2 * k), types % (2 * k)
    prepared = time.perf_counter() - start

    def counting():
        drawn = rng.multinomial(m, counts / m)
        slots = np.bincount(first, drawn, 2 * k) + np.bincount(second, drawn, 2 * k)
        return area_of_counts(slots[k:], slots[:k])

    print(json.dumps({"customary": timed(customary, replicates), "counting": timed(counting, replicates),
                      "prepare": prepared, "area": area_by_sorting(y, x)}))
