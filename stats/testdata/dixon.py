# Probabilities of Dixon's ratios for one end, by another integral than the package's:
# from the largest value x down to the far value z, the distribution of the values between
# being binomial in the gap below x:
#
#     /usr/bin/python3 stats/testdata/dixon.py
from math import comb, factorial
import numpy as np
from numpy.polynomial.legendre import leggauss
from scipy.special import ndtr

U, W = leggauss(600)

def above(n, i, j, r):
    m = n - j - 2
    total = 0.0
    xs = np.linspace(-9.5, 9.5, 761) # trapezoid in x
    h = xs[1] - xs[0]
    for x in xs:
        lo, hi = max(-10.0, x - 19), x
        if lo >= hi:
            continue
        z = 0.5 * (hi - lo) * U + 0.5 * (hi + lo)
        cut = x - r * (x - z)
        a, b = ndtr(cut) - ndtr(z), ndtr(x) - ndtr(cut)
        k = sum(comb(m, t) * a**(m - t) * b**t for t in range(i))
        f = ndtr(z)**j * np.exp(-0.5 * z * z - 0.5 * x * x) / (2 * np.pi) * k
        total += h * 0.5 * (hi - lo) * np.dot(W, f)
    return total * factorial(n) / (factorial(j) * factorial(m))

for n, i, j, r in [(4, 1, 0, .7655), (4, 1, 1, .954), (4, 2, 0, .95), (5, 1, 0, .3), (5, 1, 2, .9), (5, 2, 1, .8), (6, 2, 2, .95), (8, 1, 1, .554), (10, 1, 1, .4779),
                   (12, 2, 1, .5457), (14, 2, 2, .5455), (20, 1, 2, .4), (20, 2, 0, .25), (30, 2, 2, .3758), (30, 2, 2, .1), (30, 1, 0, .5), (100, 2, 2, .25)]:
    print("{%d, DixonR%d%d, %v, %.16g}," .replace("%v", "%s") % (n, i, j, r, above(n, i, j, r)))

# Exact critical values, one-sided, for testdata/outliers.csv: of the ratio usual for n,
# then those of r10 that a two-sided table of Q needs, and of what a table misprints.
from scipy.optimize import brentq

def critical(n, i, j, alpha):
    return brentq(lambda r: np.log(above(n, i, j, r) / alpha), 1e-9, 1 - 1e-9, xtol=1e-12)

usual = lambda n: (1, 0) if n <= 7 else (1, 1) if n <= 10 else (2, 1) if n <= 13 else (2, 2)
for n in [3, 4, 5, 7, 8, 9, 11, 12, 14, 15, 16, 17, 19, 20, 21, 23, 24]:
    for alpha in [0.1, 0.05, 0.02, 0.01, 0.005]:
        print("critical %d r%d%d %g %.8f" % ((n,) + usual(n) + (alpha, critical(n, *usual(n), alpha))), flush=True)
for n in range(3, 11):
    for alpha in [0.05, 0.025, 0.005]:
        print("critical %d r10 %g %.8f" % (n, alpha, critical(n, 1, 0, alpha)), flush=True)
for n, i, j, alpha in [(7, 2, 1, .7), (6, 2, 2, .4), (29, 1, 2, .5), (12, 2, 0, .3), (16, 1, 1, .7), (19, 2, 2, .8), (10, 1, 1, .05)]:
    print("critical %d r%d%d %g %.8f" % (n, i, j, alpha, critical(n, i, j, alpha)), flush=True)
