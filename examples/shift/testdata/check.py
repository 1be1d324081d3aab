"""Recomputes the demo from its CSV files with fractions and mpmath 1.2.1,
independently of the library. TestDemoAgainstCheck holds what it prints.

    python3 examples/shift/testdata/check.py
"""
import csv
import os
from fractions import Fraction as F

import mpmath as mp

HERE = os.path.dirname(os.path.abspath(__file__))


def rows(name):
    with open(os.path.join(HERE, name), encoding="utf-8") as f:
        return list(csv.DictReader(f))


def half_even(x, step):
    step = F(step)
    whole, rest = divmod(x / step, 1)
    if rest > F(1, 2) or rest == F(1, 2) and whole % 2:
        whole += 1
    return whole * step


def grouped(name, key, value):
    groups = {}
    for r in rows(name):
        groups.setdefault(r[key], []).append(F(r[value]))
    return groups


def mean(xs):
    return sum(xs) / len(xs)


def real(x):
    return mp.mpf(x.numerator) / x.denominator


def std_dev(xs):
    return mp.sqrt(real(sum((x - mean(xs)) ** 2 for x in xs) / (len(xs) - 1)))


WATER = F("62.245")
gauge = grouped("strip.csv", "location", "reading")
cores = {r["location"]: half_even(F(r["gmb"]) * WATER, "0.1") for r in rows("cores.csv")}
diffs = [cores[k] - mean(v) for k, v in gauge.items()]
n = len(diffs)
t = mp.findroot(lambda t: mp.betainc(mp.mpf(n - 1) / 2, 0.5, 0, (n - 1) / (n - 1 + t * t), regularized=True) - mp.mpf("0.05"), 2.7)
half = t * std_dev(diffs) / mp.sqrt(n)
print("offset", mean(diffs), mp.nstr(real(mean(diffs)) - half, 12), mp.nstr(real(mean(diffs)) + half, 12))
offset = half_even(mean(diffs), "0.1")

gmm = {k: half_even(mean(v), "0.001") for k, v in grouped("gmm.csv", "date", "gmm").items()}
readings = grouped("readings.csv", "sublot", "reading")
lots = {}
for r in rows("sublots.csv"):
    density = half_even(mean(readings[r["sublot"]]) + offset, "0.1")
    percent = half_even(100 * density / half_even(gmm[r["date"]] * WATER, "0.1"), "0.01")
    print(r["sublot"], float(density), float(percent))
    lots.setdefault(r["lot"], []).append((percent, F(r["quantity"])))


def within(q, n):
    x = min(max(mp.mpf(1) / 2 - q * mp.sqrt(n) / (2 * (n - 1)), 0), 1)
    a = mp.mpf(n) / 2 - 1
    return 100 * (1 - mp.betainc(a, a, 0, x, regularized=True))


for lot, results in lots.items():
    xs = [x for x, _ in results]
    m, s = real(mean(xs)), std_dev(xs)
    lower, upper = within((m - 92) / s, len(xs)), within((97 - m) / s, len(xs))
    pwl = half_even(F(mp.nstr(lower + upper - 100, 15)), "0.01")
    for start, intercept, slope in (("96", "1.02", "0"), ("90", "0.82", "0.002"), ("75", "0.55", "0.005"), ("50", "0.50", "0.005")):
        if pwl >= F(start):
            factor = half_even(F(intercept) + F(slope) * pwl, "0.001")
            break
    full = sum(q for _, q in results) * F("82.40")
    adjustment = half_even(full * (factor - 1), "0.01")
    print(lot, "PWL", mp.nstr(lower, 12), mp.nstr(upper, 12), float(pwl), "factor", float(factor),
          "adjustment", float(adjustment), "pay", float(half_even(full, "0.01") + adjustment))
