# d2, d3 and c4 of subgroups of n normal values with mpmath at 22 digits, for
# chartconstants_test.go:
#
#     /usr/bin/python3 stats/testdata/rangeconstants.py
#
# d2 by adaptive quadrature of 1 - Phi^n - (1-Phi)^n; d3 by the trapezoid rule in ln w and
# in the middle c of the range of (w-d2)^2 times the density of w. Some minutes.
from mpmath import mp, mpf, ncdf, quad, log, exp, sqrt, pi, gamma, nstr

mp.dps = 22

def d2(n):
    return quad(lambda x: 1 - ncdf(x)**n - ncdf(-x)**n, [-12, -6, -5, -4, -3, -1, 0, 1, 3, 4, 5, 6, 12])

def d3(n):
    m = d2(n)
    hs, hc = (mpf(1) / 16, mpf(1) / 8) if n < 60 else (mpf(1) / 128, mpf(1) / 32)
    total = mpf(0)
    s = log(m) - mpf(55) / (n - 1) if n < 60 else log(m) - mpf(3) / 2
    while s < log(m + (15 if n < 60 else 9)):
        w, c, inner = exp(s), mpf(0), mpf(0)
        while c < 7.5:
            t = exp(-c * c - w * w / 4) * (ncdf(c + w / 2) - ncdf(c - w / 2))**(n - 2)
            inner += t if c else t / 2
            c += hc
        total += (w - m)**2 * w * inner * hc * n * (n - 1) / pi
        s += hs
    return sqrt(total * hs)

for n in [2, 3, 4, 5, 6, 7, 10, 15, 25, 100, 1000, 1000000]:
    print(n, nstr(d2(n), 22), nstr(d3(n), 18), nstr(sqrt(mpf(2) / (n - 1)) * gamma(mpf(n) / 2) / gamma(mpf(n - 1) / 2), 22), flush=True)
