"""Writes noncentraltfresh.csv: noncentral t tails at points drawn for this
purpose alone, with mpmath at 40 digits.

    python3 freshnoncentralt.py

P = int Phi(+-(t w - ncp)) dP(w), w = sqrt(chi2/df), by the trapezoid rule in
ln w with steps fine enough that halving them changes nothing (checked on every
fifth row). The two tails are summed apart and must add to 1.
"""
import random
from mpmath import mp, mpf, exp, expm1, log, loggamma, sqrt, erfc

mp.dps = 40
random.seed(31)


def tails(t, df, ncp, fine):
    t, df, ncp = mpf(t), mpf(df), mpf(ncp)
    lead = log(2) + df / 2 * log(df / 2) - df / 2 - loggamma(df / 2)
    h = min(1 / sqrt(2 * df) / 6, mpf(1) / 16, 1 / (3 * (abs(ncp) + 1))) / fine

    def terms(u):
        w = exp(u)
        g = exp(lead + df * (u - expm1(2 * u) / 2))
        x = (t * w - ncp) / sqrt(mpf(2))
        return g * erfc(-x) / 2, g * erfc(x) / 2

    low = up = mpf(0)
    for sign in (1, -1):
        k = 0 if sign == 1 else 1
        while True:
            a, b = terms(sign * k * h)
            low, up = low + a, up + b
            # go on through the peak of the smaller tail
            if k > 30 and a < low * mpf(10) ** -36 and b < up * mpf(10) ** -36:
                break
            k += 1
    return low * h, up * h


rows, add, halve = [], mpf(0), mpf(0)
cases = []
for i in range(110):
    df = random.choice([random.randint(2, 60), random.uniform(1.5, 40), random.uniform(40, 2000)])
    ncp = random.choice([random.uniform(-6, 6), random.uniform(-20, 40)])
    z = random.uniform(-12, 12)
    cases.append((ncp + z * (1 + ncp * ncp / (2 * df)) ** 0.5, df, ncp))
for ncp in (400, 1000.5):
    for df in (3, 24.625, 200, 5000):
        for z in (-6, 0.3, 4):
            cases.append((ncp * (1 + z / (2 * df) ** 0.5) if z > 0 else ncp / (1 - z / (2 * df) ** 0.5), df, ncp))
for i, (t, df, ncp) in enumerate(cases):
    t, df, ncp = round(t * 64) / 64, round(df * 8) / 8, round(ncp * 8) / 8
    low, up = tails(t, df, ncp, 1)
    add = max(add, abs(low + up - 1))
    if i % 5 == 0:
        a, b = tails(t, df, ncp, 2)
        halve = max(halve, abs(a / low - 1), abs(b / up - 1))
    if min(low, up) > mpf(10) ** -300:
        rows.append((repr(t), repr(df), repr(ncp), mp.nstr(low, 20), mp.nstr(up, 20)))
with open("noncentraltfresh.csv", "w") as f:
    f.write("# P(T <= t) and P(T > t) of the noncentral t distribution; t, df and ncp are exact in float64.\n")
    f.write("# Made by freshnoncentralt.py with mpmath at 40 digits; the tails add to 1 within %s, half the step changes them by %s at most.\n" % (mp.nstr(add, 2), mp.nstr(halve, 2)))
    f.write("t,df,ncp,lower,upper\n")
    for r in rows:
        f.write(",".join(r) + "\n")
