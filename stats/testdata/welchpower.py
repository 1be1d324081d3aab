"""Power of Welch's test and of its two one-sided tests, by integrating over both
sample variances on a grid of quantiles of each chi-square (SciPy 1.10, Python 3).
"""
from math import sqrt

import numpy as np
from scipy import stats
from scipy.special import roots_legendre

NODES, WEIGHTS = roots_legendre(300)


def variances(df):
    """Nodes and weights for the mean over s²/σ², by Gauss-Legendre in √(s²/σ²)."""
    top = sqrt(stats.chi2.isf(1e-18, df) / df)
    w = top * (NODES + 1) / 2
    return w * w, WEIGHTS * top / 2 * 2 * w * df * stats.chi2.pdf(df * w * w, df)


def power(n, m, s1, s2, difference, alpha, margins=None):
    v1, p1 = variances(n - 1)
    v2, p2 = variances(m - 1)
    a, b = np.meshgrid(v1 * s1**2 / n, v2 * s2**2 / m, indexing="ij")
    se = np.sqrt(a + b)
    df = (a + b) ** 2 / (a**2 / (n - 1) + b**2 / (m - 1))
    true = sqrt(s1**2 / n + s2**2 / m)
    if margins is None:
        c = stats.t.isf(alpha / 2, df) * se
        reject = stats.norm.sf((c - difference) / true) + stats.norm.cdf((-c - difference) / true)
    else:
        c = stats.t.isf(alpha, df) * se
        hi, lo = (margins[1] - c - difference) / true, (margins[0] + c - difference) / true
        reject = np.maximum(0, stats.norm.cdf(hi) - stats.norm.cdf(lo))
    return p1 @ reject @ p2


print("%.12f" % power(5, 8, 1, 3, 2, 0.05))
print("%.12f" % power(3, 3, 1, 1, 3, 0.05))
print("%.9f" % power(5, 8, 1, 3, 0.5, 0.05, (-4, 5)))
