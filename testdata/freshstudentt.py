"""Writes studenttfresh.csv: Student t tails at points drawn for this purpose
alone, with mpmath at 60 digits.

    python3 freshstudentt.py

P(T > t) = I_w(df/2, 1/2)/2, w = df/(df+t^2), checked on every row against the
positive-term series of the symmetric beta tail at (1-u)/2, u = t/sqrt(df+t^2).
"""
import random
from mpmath import mp, mpf, betainc, hyp2f1, loggamma, log, exp, sqrt

mp.dps = 60
random.seed(7)


def symmetric(t, df):
    a = df / 2
    u = t / sqrt(df + t * t)
    s = (df / (df + t * t)) / (1 + u) / 2
    lead = a * log(df / (df + t * t) / 4) + loggamma(2 * a) - 2 * loggamma(a) - log(a)
    return exp(lead) * hyp2f1(2 * a, 1, a + 1, s, maxterms=10**6)


rows, worst = [], mpf(0)
cases = [float(k) for k in range(1, 61)] * 3
cases += [random.uniform(0.3, 30) for _ in range(40)] + [10 ** random.uniform(1.5, 5) for _ in range(40)]
for df in cases:
    want = random.choice([random.uniform(0.01, 8), random.uniform(0.01, 600)])
    t = float((mpf(df) * mp.expm1(2 * mpf(want) / df)) ** 0.5) if 2 * want / df < 600 else 10 ** random.uniform(0, 60)
    p = betainc(mpf(df) / 2, mpf(1) / 2, 0, mpf(df) / (df + mpf(t) ** 2), regularized=True) / 2
    if p < mpf(10) ** -300:
        continue
    worst = max(worst, abs(symmetric(mpf(t), mpf(df)) / p - 1))
    rows.append((repr(df), repr(t), mp.nstr(p, 20)))
with open("studenttfresh.csv", "w") as f:
    f.write("# P(T > t) of Student's t; df and t are exact in float64.\n")
    f.write("# Made by freshstudentt.py with mpmath betainc at 60 digits; the series of the symmetric beta tail agrees to %s.\n" % mp.nstr(worst, 2))
    f.write("df,t,value\n")
    for r in rows:
        f.write(",".join(r) + "\n")
