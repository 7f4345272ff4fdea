"""The reference of ForecastBenchmark: the same trials in vectorised NumPy.

python3 forecast_numpy.py TRIALS RELEASES STAGES PAST ROUNDS -> JSON with the milliseconds of each round and the figures.
"""
import json
import sys
import time

import numpy as np

trials, releases, stages, past, rounds = map(int, sys.argv[1:6])
# The hours that the benchmark uses: hour = 1 + (7 * row + 3 * stage) % 11 / 4.
rows = 1 + (7 * np.arange(past)[:, None] + 3 * np.arange(stages)[None, :]) % 11 / 4
slots = (np.arange(releases) + 1) * rows.sum(axis=1).mean()
order = [50, 70, 85, 95]


def whole(rng):
    drawn = rows.sum(axis=1)[rng.integers(0, past, (trials, releases))]
    return summary(np.cumsum(drawn, axis=1))


def apart(rng):
    drawn = rows[rng.integers(0, past, (trials, releases, stages)), np.arange(stages)]
    return summary(np.cumsum(drawn.sum(axis=2), axis=1))


def summary(finishes):
    met = (finishes <= slots + 1e-7).mean(axis=0)
    percentiles = np.percentile(finishes, order, axis=0, method="inverted_cdf")
    return met, percentiles


answer = {}
for name, run in (("whole", whole), ("apart", apart)):
    rng = np.random.default_rng(1)
    run(rng)
    times = []
    for _ in range(rounds):
        began = time.perf_counter()
        met, percentiles = run(rng)
        times.append((time.perf_counter() - began) * 1000)
    answer[name] = {"ms": times, "met": met.tolist(), "percentiles": percentiles.T.tolist()}
json.dump(answer, sys.stdout)
