"""P(ratio ≤ r) of the test for two outliers, by nested quadrature of the recursion
for the largest studentized deviation (SciPy 1.10, Python 3).
"""
from math import sqrt

from scipy import stats
from scipy.integrate import quad


def density(n, u):
    a = n / 2 - 1
    return stats.beta.pdf((1 + u) / 2, a, a) / 2


def reach(n, u):
    return u * sqrt(n / (n - 2)) / sqrt(1 - u * u)


def above(n, u):
    """P(largest scaled deviation of n values > u)."""
    limit = sqrt((n - 2) / (2 * (n - 1)))
    if u >= limit:
        return n * stats.beta.sf((1 + min(u, 1)) / 2, n / 2 - 1, n / 2 - 1)
    if u <= 1 / (n - 1):
        return 1.0
    part = quad(lambda x: n * density(n, x) * (1 - above(n - 1, reach(n, x))), u, limit, epsabs=1e-10)[0]
    return above(n, limit) + part


def ratio_cdf(n, r):
    def f(u):
        square, high = 1 - r / (1 - u * u), min(1, reach(n, u))
        low = above(n - 1, sqrt(square)) if square > 0 else 1.0
        return n * density(n, u) * max(0, low - above(n - 1, high))

    limit = sqrt((n - 2) / (2 * (n - 1)))
    bends = [sqrt(max(0, 1 - r / (1 - v * v))) for v in (0, 1 / (n - 2), sqrt((n - 3) / (2 * (n - 2))))]
    points = sorted({u for u in (limit, limit * sqrt(1 - r), *bends) if u > 1 / (n - 1)} | {1 / (n - 1), 1})
    return sum(quad(f, a, b, epsabs=1e-11, limit=200)[0] for a, b in zip(points, points[1:]))


for n, r in ((4, 0.0008), (4, 0.5), (5, 0.02), (5, 0.4)):
    print(n, r, "%.9g" % ratio_cdf(n, r))
