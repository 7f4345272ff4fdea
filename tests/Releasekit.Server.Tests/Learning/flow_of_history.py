"""Flow figures of a history, reckoned apart from the service: NumPy for percentiles, SciPy for the binomial law."""
import csv
import datetime as dt
import json
import sys

import numpy as np
from scipy.stats import binom


def instant(text):
    return dt.datetime.fromisoformat(text.replace("Z", "+00:00"))


def days(difference):
    return difference.total_seconds() / 86400


def percentile(values, percent):
    values = np.sort(np.array(values))
    n, p = len(values), percent / 100
    value = float(np.quantile(values, p, method="inverted_cdf"))
    low = max((l for l in range(1, n + 1) if binom.cdf(l - 1, n, p) <= 0.025), default=None)
    high = min((u for u in range(1, n + 1) if binom.sf(u - 1, n, p) <= 0.025), default=None)
    return {
        "value": value,
        "low": None if low is None else float(values[low - 1]),
        "high": None if high is None else float(values[high - 1]),
    }


def kaplan_meier(times):
    """(time, finished) pairs; finishes before those still open at a tie; Greenwood's error."""
    steps, survival, greenwood = [], 1.0, 0.0
    for time in sorted({time for time, finished in times if finished}):
        risk = sum(1 for other, _ in times if other >= time)
        done = sum(1 for other, finished in times if finished and other == time)
        survival *= 1 - done / risk
        greenwood += done / (risk * (risk - done)) if risk > done else 0
        steps.append([time, risk, done, survival, survival * greenwood ** 0.5])
    return steps


def main(path, begin, start, end, at):
    window, as_of = (instant(start), instant(end)), instant(at)
    end_of_window = min(window[1], as_of)
    releases = []
    for row in csv.DictReader(open(path, encoding="utf-8-sig")):
        published = instant(row["published_at"])
        began = instant(row[begin]) if begin else None
        planned = min(instant(row[name]) for name in row if name.endswith("_at") and row[name])
        if planned <= as_of:
            releases.append((planned, began, published if published <= as_of else None, row))

    finished = [r for r in releases if r[2] and window[0] <= r[2] < end_of_window]
    answer = {
        "finished": len(finished),
        "lead": {str(p): percentile([days(r[2] - r[0]) for r in finished], p) for p in (50, 70, 85, 95)},
        "throughputPerWeek": len(finished) / days(end_of_window - window[0]) * 7,
    }
    if begin:
        cycles = [days(r[2] - r[1]) for r in finished]
        answer["cycle"] = {str(p): percentile(cycles, p) for p in (50, 70, 85, 95)}
        answer["edit"] = {
            str(p): percentile(
                [days(instant(r[3]["last_edit_at"]) - instant(r[3]["first_edit_at"])) for r in finished], p)
            for p in (50, 70, 85, 95)}
        followed = [
            (days((r[2] if r[2] and r[2] < end_of_window else end_of_window) - r[1]),
             bool(r[2] and r[2] < end_of_window))
            for r in releases if window[0] <= r[1] < end_of_window]
        answer["cycleWithOpen"] = kaplan_meier(followed)
        length = days(end_of_window - window[0])
        area = sum(
            max(0.0, days(min(r[2] or end_of_window, end_of_window) - max(r[1], window[0]))) for r in releases)
        answer["workInProgress"] = area / length
        answer["gap"] = area / length - sum(cycles) / length
        answer["open"] = sorted(
            (days(end_of_window - r[1]) for r in releases
             if r[1] < end_of_window and not (r[2] and r[2] < end_of_window)), reverse=True)
    json.dump(answer, sys.stdout)


main(*sys.argv[1:6])
