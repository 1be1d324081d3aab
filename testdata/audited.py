"""Writes audited.csv: random lots of invented results, and what an evaluation of them has to give.

Python 3 with mpmath 1.2.1; run as: python3 audited.py > audited.csv
Means and sums of squares are fractions.Fraction, quality indices and percentages have 60 digits in
mpmath, money is fractions. No code is shared with the library. The plan of each lot is in its line.
"""
import random
from fractions import Fraction
import mpmath as mp

mp.mp.dps = 60


def half_even(x, places):
    """Rounds a Fraction or mpf to a decimal text; no value here is within 1e-50 of a tie unless it is a Fraction."""
    scale = 10 ** places
    if isinstance(x, Fraction):
        whole = round(x * scale)  # Python rounds a Fraction half to even
    else:
        whole = int(mp.floor(x * scale + mp.mpf(1) / 2))
        assert abs(x * scale - mp.floor(x * scale) - mp.mpf(1) / 2) > mp.mpf(10) ** -40
    sign = "-" if whole < 0 else ""
    text = str(abs(whole)).rjust(places + 1, "0")
    return sign + (text[:-places] + "." + text[-places:] if places else text)


def real(x):
    return mp.mpf(x.numerator) / x.denominator if isinstance(x, Fraction) else x


def below(y, n):
    if y <= -1:
        return mp.mpf(0)
    if y >= 1:
        return mp.mpf(1)
    a = mp.mpf(n) / 2 - 1
    return mp.betainc(a, a, 0, (1 + y) / 2, regularized=True)


def lot(rng, i):
    n = 3 + i % 10
    centre, spread = rng.randint(9150, 9550), rng.choice([3, 20, 90, 250])
    values = [centre + rng.randint(-spread, spread) for _ in range(n)]
    if min(values) == max(values):
        values[0] += 1
    lower, upper = Fraction(920, 10), Fraction(965, 10)
    q_places = [None, 2, 4][i % 3]
    x = [Fraction(v, 100) for v in values]
    mean = sum(x) / n
    square = sum((v - mean) ** 2 for v in x) / (n - 1)
    s = mp.sqrt(real(square))
    beyond = []
    q = []
    for distance in (mean - lower, upper - mean):
        exact = real(distance) / s
        used = exact if q_places is None else real(Fraction(half_even(exact, q_places)))
        q.append(exact)
        y = used * mp.sqrt(n) / (n - 1)
        # exactly saturated lots are decided on squares
        if q_places is None and distance * distance * n >= square * (n - 1) ** 2:
            y = mp.sign(real(distance)) * 2
        beyond.append(below(-y, n))
    pwl = 100 * (1 - sum(beyond))
    if pwl < 0:
        pwl = mp.mpf(0)
    quantity, price = Fraction(rng.randint(10000, 90000), 100), Fraction(rng.randint(5000, 12000), 100)
    used = Fraction(half_even(pwl, 2))
    factor, total = "", ""
    if used >= 50:
        factor = half_even(Fraction(55, 100) + used / 200, 3)
        base = half_even(quantity * n * price, 2)
        adjustment = half_even(quantity * n * price * (Fraction(factor) - 1), 2)
        total = half_even(Fraction(base) + Fraction(adjustment), 2)
    text = lambda v: "%d.%02d" % (v // 100, v % 100)
    return [" ".join(text(v) for v in values), "" if q_places is None else str(q_places), half_even(quantity, 2), half_even(price, 2),
            half_even(mean, 8), half_even(s, 8), half_even(q[0], 12), half_even(q[1], 12), float(pwl).hex(), half_even(used, 2), factor, total]


if __name__ == "__main__":
    rng = random.Random(20240511)
    print("values,q places,quantity,price,mean,s,ql,qu,pwl,pwl used,factor,pay")
    for i in range(600):
        print(",".join(lot(rng, i)))
