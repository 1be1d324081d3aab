# Second computation of the figures printed by example_moments_test.go, in
# rational arithmetic where that is possible, with nothing but Python's standard
# library:
#
#     python3 stats/testdata/moments.py
from fractions import Fraction
from math import sqrt
from statistics import NormalDist, median


def numbers(text):
    return [Fraction(word) for word in text.split()]


def moment(x, k):
    mean = sum(x) / len(x)
    return sum((v - mean) ** k for v in x) / len(x)


def skewness_adjusted(x):
    n = len(x)
    return float(moment(x, 3)) / float(moment(x, 2)) ** 1.5 * sqrt(n * (n - 1)) / (n - 2)


def lag_one(x):
    mean = sum(x) / len(x)
    return float(sum((a - mean) * (b - mean) for a, b in zip(x, x[1:])) / (moment(x, 2) * len(x)))


def solve(matrix, right):
    """Gauss-Jordan elimination in fractions."""
    n = len(matrix)
    rows = [row[:] + [value] for row, value in zip(matrix, right)]
    for i in range(n):
        pivot = next(k for k in range(i, n) if rows[k][i] != 0)
        rows[i], rows[pivot] = rows[pivot], rows[i]
        rows[i] = [v / rows[i][i] for v in rows[i]]
        for k in range(n):
            if k != i:
                rows[k] = [a - rows[k][i] * b for a, b in zip(rows[k], rows[i])]
    return [row[-1] for row in rows]


def fit(columns, y):
    """Coefficients, standard errors and residual standard deviation."""
    n, p = len(y), len(columns)
    products = [[sum(a * b for a, b in zip(c, d)) for d in columns] for c in columns]
    b = solve(products, [sum(a * v for a, v in zip(c, y)) for c in columns])
    residuals = [v - sum(bj * c[i] for bj, c in zip(b, columns)) for i, v in enumerate(y)]
    variance = sum(r * r for r in residuals) / (n - p)
    inverse = [solve(products, [Fraction(int(i == j)) for i in range(p)])[j] for j in range(p)]
    r2 = 1 - variance * (n - p) / (moment(y, 2) * n)
    return [float(v) for v in b], [sqrt(v * variance) for v in inverse], sqrt(variance), float(r2)


def one_way(groups):
    every = sum(groups, [])
    mean = sum(every) / len(every)
    between = sum(len(g) * (sum(g) / len(g) - mean) ** 2 for g in groups)
    within = sum(moment(g, 2) * len(g) for g in groups)
    k, n = len(groups), len(every)
    f = between / (k - 1) / (within / (n - k))
    return [float(v) for v in (between / (k - 1), within / (n - k), f, between / (between + within))]


MASK = (1 << 64) - 1


def mix(x):
    """SplitMix64."""
    x = (x + 0x9E3779B97F4A7C15) & MASK
    x = ((x ^ x >> 30) * 0xBF58476D1CE4E5B9) & MASK
    x = ((x ^ x >> 27) * 0x94D049BB133111EB) & MASK
    return x ^ x >> 31


class PCG:
    """PCG-DXSM with the constants of math/rand/v2."""

    def __init__(self, high, low):
        self.state = high << 64 | low

    def draw(self):
        factor = 2549297995355413924 << 64 | 4865540595714422341
        increment = 6364136223846793005 << 64 | 1442695040888963407
        self.state = (self.state * factor + increment) & (MASK << 64 | MASK)
        high, low = self.state >> 64, self.state & MASK
        high = (high ^ high >> 32) * 0xDA942042E4DD58B5 & MASK
        return (high ^ high >> 48) * (low | 1) & MASK

    def below(self, n):
        value = self.draw() * n
        while value & MASK < (1 << 64) % n:
            value = self.draw() * n
        return value >> 64


def bca(x, statistic, replicates, level, seed):
    n = len(x)
    center = statistic(x)
    drawn = []
    for i in range(replicates):
        source = PCG(mix(seed), mix(i))
        drawn.append(statistic([x[source.below(n)] for _ in range(n)]))
    drawn.sort()
    normal = NormalDist()
    share = sum(v < center for v in drawn) + sum(v == center for v in drawn) / 2
    z0 = normal.inv_cdf(share / replicates)
    left_out = [statistic(x[:i] + x[i + 1:]) for i in range(n)]
    mean = sum(left_out) / n
    a = sum((mean - v) ** 3 for v in left_out) / (6 * sum((mean - v) ** 2 for v in left_out) ** 1.5)
    limits = []
    for p in ((1 - level) / 2, (1 + level) / 2):
        z = z0 + normal.inv_cdf(p)
        h = normal.cdf(z0 + z / (1 - a * z)) * (replicates + 1)
        j = int(h)
        limits.append(drawn[j - 1] + (h - j) * (drawn[j] - drawn[j - 1]))
    return center, limits


def ones(n):
    return [Fraction(1)] * n


print("SkewnessAdjusted", skewness_adjusted(numbers("5.8 6.1 6.4 5.9 6.2 9.7")))
print("LagOne", lag_one(numbers("145.1 145.4 145.9 146.3 146.2 146.8 147.1")))
print("OneWay", one_way([numbers("92 93 94"), numbers("94 95 96 95"), numbers("93 94")]))
print("FitLine", fit([ones(5), numbers("1 2 3 4 5")], numbers("138.0 140.1 141.9 144.2 145.8")))
print("FitLineThroughOrigin", fit([numbers("146.2 147.9 145.1 148.6")], numbers("144.0 145.5 143.2 146.3"))[:3])
print("FitLinear", fit(
    [ones(8), numbers("1 2 3 4 1 2 3 4"), numbers("290 280 270 260 250 240 230 220")],
    numbers("138.9 140.6 142.8 144.3 136.7 138.9 140.7 142.6")))
print("FitLinearThroughOrigin", fit([ones(3), numbers("4 5 6")], numbers("24.0 27.1 29.8"))[0])
x = numbers("1 2 3 4 5 6 7")
b, _, residual, _ = fit([ones(7), x, [v * v for v in x]], numbers("138.0 141.1 143.4 144.7 145.2 144.8 143.5"))
print("FitPolynomial", -b[1] / (2 * b[2]), residual)
print("Bootstrap", bca(
    [93.1, 94.4, 92.8, 95.0, 93.7, 94.1, 92.2, 93.9, 94.8, 93.3,
     94.0, 93.6, 95.3, 92.6, 93.8, 94.5, 93.0, 94.2, 93.5, 94.9],
    median, replicates=1999, level=0.95, seed=20240611))
