# d2, d3 and c4 of subgroups of n normal values with mpmath, for chartconstants_test.go, and
# the factors of charts with three-sigma limits, for testdata/charts.csv:
#
#     /usr/bin/python3 stats/testdata/rangeconstants.py
#
# d2 by adaptive quadrature of 1 - Phi^n - (1-Phi)^n; d3 by the trapezoid rule in ln w and
# in the middle c of the range, of (w-d2)^2 times the density of w. Each d3 stands with how
# far the same rule is from a total probability of 1 and how much steps of two thirds move
# it. Some minutes.
from mpmath import mp, mpf, ncdf, quad, log, exp, sqrt, pi, gamma, nstr

mp.dps = 30

def d2(n):
    return quad(lambda x: 1 - ncdf(x)**n - ncdf(-x)**n, [-14, -6, -5, -4, -3, -1, 0, 1, 3, 4, 5, 6, 14])

def d3(n, m, narrow):
    hs, hc = narrow / (16 if n < 60 else 64 if n < 10000 else 128), narrow / (8 if n < 60 else 32 if n < 10000 else 64)
    squares = probability = mpf(0)
    s = log(m) - mpf(60) / (n - 1) - 1
    while s < log(m + 14):
        w, c, inner = exp(s), mpf(0), mpf(0)
        while c < 8.5:
            t = exp(-c * c - w * w / 4) * (ncdf(c + w / 2) - ncdf(c - w / 2))**(n - 2)
            inner += t if c else t / 2
            c += hc
        density = w * inner * hc * hs * n * (n - 1) / pi
        squares += (w - m)**2 * density
        probability += density
        s += hs
    return sqrt(squares), probability - 1

for n in [2, 3, 4, 5, 6, 7, 8, 9, 10, 15, 20, 25, 100, 1000, 1000000]:
    m = d2(n)
    value, excess = d3(n, m, mpf(1))
    moved = d3(n, m, mpf(2) / 3)[0] - value
    c4 = sqrt(mpf(2) / (n - 1)) * gamma(mpf(n) / 2) / gamma(mpf(n - 1) / 2)
    print("{%d, %s, %s, %s}, // %s %s" % (n, nstr(m, 22), nstr(value, 22), nstr(c4, 22), nstr(excess, 2), nstr(moved, 2)), flush=True)
    if n <= 25:
        about = lambda d: (max(0, 1 - d), 1 + d)
        B, D = about(3 * sqrt(1 - c4**2) / c4), about(3 * value / m)
        print("    # A2, A3, B3, B4, D3, D4:", *(nstr(x, 10) for x in (3 / m / sqrt(n), 3 / c4 / sqrt(n), *B, *D)))
