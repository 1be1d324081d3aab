# Second computation of the figures printed by example_regression_test.go and
# example_drift_test.go, with R and nothing but its standard packages:
#
#     Rscript stats/testdata/regression.R
options(digits = 6)
gauge <- c(142.1, 140.9, 140.7, 138.9, 143.6, 142.4, 141.3, 139.8, 143.3, 141.0)
core <- c(144.9, 142.8, 143.1, 140.7, 145.1, 144.2, 143.8, 142.8, 144.8, 143.0)
m <- lm(core ~ gauge)
k <- summary(m)$coefficients
cat("slope", k[2, 1], confint(m)[2, ], "p of 1", 2 * pt(-abs((k[2, 1] - 1) / k[2, 2]), 8), "\n")
cat("intercept", k[1, 1], confint(m)[1, ], "p", k[1, 4], "\n")
print(predict(m, data.frame(gauge = 142), interval = "confidence"))
print(predict(m, data.frame(gauge = 142), interval = "prediction"))

passes <- c(1, 2, 3, 4, 1, 2, 3, 4)
temperature <- c(290, 280, 270, 260, 250, 240, 230, 220)
density <- c(138.9, 140.6, 142.8, 144.3, 136.7, 138.9, 140.7, 142.6)
q <- lm(density ~ passes + temperature)
cat("per degree", confint(q)[3, ], "p", summary(q)$coefficients[3, 4], "\n")
print(predict(q, data.frame(passes = 3, temperature = 255), interval = "prediction"))

water <- c(5, 5, 7, 7, 9, 9, 11, 11)
proctor <- c(1.91, 1.92, 2.00, 2.01, 2.02, 2.01, 1.94, 1.95)
print(anova(lm(proctor ~ water), lm(proctor ~ factor(water))))
mass <- c(1, 1, 2, 2, 3, 3)
scale <- c(1.002, 1.000, 2.006, 2.008, 3.004, 3.002)
print(anova(lm(scale ~ 0 + mass), lm(scale ~ 0 + factor(mass))))

# Fieller: where the pivot meets t².
s <- summary(m)$sigma
pivot <- function(x) (143.5 - coef(m)[1] - coef(m)[2] * x)^2 / (s^2 * (1 + 1 / 10 + (x - mean(gauge))^2 / sum((gauge - mean(gauge))^2))) - qt(.975, 8)^2
x0 <- (143.5 - coef(m)[1]) / coef(m)[2]
cat("gauge at 143.5", x0, uniroot(pivot, c(x0 - 9, x0), tol = 1e-10)$root, uniroot(pivot, c(x0, x0 + 9), tol = 1e-10)$root, "\n")

# Deming, ratio of error variances y over x: the main axis by eigen().
deming <- function(x, y, ratio) {
  e <- eigen(cov(cbind(x, y / sqrt(ratio))))$vectors[, 1]
  b <- sqrt(ratio) * e[2] / e[1]
  c(mean(y) - b * mean(x), b)
}
p <- function(b, ratio) cor.test(ratio * gauge + b * core, core - b * gauge)$p.value
cat("sums", mean(gauge), mean(core), 9 * var(gauge), 9 * var(core), 9 * cov(gauge, core), "\n")
cat("Deming, ratio 0.25", deming(gauge, core, .25), "p of 1", p(1, .25), "\n")
cat("limits", uniroot(function(b) p(b, .25) - .05, c(.5, .9))$root, uniroot(function(b) p(b, .25) - .05, c(.97, 1.8))$root, "\n")

xs <- list(c(144.8, 145.1, 144.9), c(146.9, 147.2, 147.0), c(143.9, 144.1, 144.0), c(148.0, 148.2, 147.9))
ys <- list(c(147.4, 147.9), c(148.6, 148.2), c(147.3, 147.6), c(149.6, 149.3))
within <- function(g) sum(sapply(g, function(v) sum((v - mean(v))^2))) / sum(lengths(g) - 1)
r <- within(ys) / within(xs)
cat("ratio", r, r / qf(.975, 4, 8), r * qf(.975, 8, 4), "\n")
cat("Deming of means, ratio", r * 3 / 2, deming(sapply(xs, mean), sapply(ys, mean), r * 3 / 2), "\n")

# York: the sum of squares minimized.
ex <- c(.2, .2, .3, .3, .2, .2, .3, .3, .2, .2)
ey <- c(.4, .4, .4, .4, .4, .6, .6, .6, .6, .6)
S <- function(b) { w <- 1 / (ey^2 + b^2 * ex^2); a <- sum(w * (core - b * gauge)) / sum(w); sum(w * (core - a - b * gauge)^2) }
o <- optimize(S, c(.5, 1.5), tol = 1e-10)
cat("York", o$minimum, "S", o$objective, "P", pchisq(o$objective, 8, lower.tail = FALSE), "\n")

# Components.
lots <- list(c(92.1, 92.6, 91.9), c(93.9, 94.4, 94.0), c(92.8, 93.3, 92.7), c(95.1, 94.6, 95.0))
ms <- c(3 * var(sapply(lots, mean)), mean(sapply(lots, var)))
f <- ms[1] / ms[2]
u <- f / qf(c(.975, .025), 3, 8)
cat("components", (ms[1] - ms[2]) / 3, ms[2], "sd", sqrt(c((ms[1] - ms[2]) / 3, ms[2])), "icc", (f - 1) / (f + 2), (u - 1) / (u + 2), "\n")
lot <- c(1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3)
location <- c(1, 1, 2, 2, 1, 1, 2, 2, 1, 1, 2, 2)
y <- c(92.1, 92.4, 93.0, 93.2, 94.6, 94.4, 93.9, 94.1, 93.0, 93.1, 92.2, 92.0)
a <- summary(aov(y ~ factor(lot) / factor(location)))[[1]][, "Mean Sq"]
cat("nested variances", (a[1] - a[2]) / 4, (a[2] - a[3]) / 2, a[3], "\n")

# Charts and drift.
z <- c(93.8, 94.3, 94.1, 93.6, 94.0, 92.9, 93.1, 92.6, 92.8, 92.5)
up <- Reduce(function(s, x) max(0, s + 94 - .25 - x), z, 0, accumulate = TRUE)[-1]
cat("low sums", up, "\n")
mr <- mean(abs(diff(z)))
cat("chart", mean(z), mr, mean(z) + c(-3, 3) * mr * sqrt(pi) / 2, mr * (1 + 3 * sqrt(2 - 4 / pi) * sqrt(pi) / 2), "\n")
set.seed(1)
sim <- matrix(rnorm(1e7), 10)
d <- sim - rep(colMeans(sim), each = 10)
ratio <- function(v) sum(diff(v)^2) / sum((v - mean(v))^2)
cat("von Neumann", ratio(z), "p", mean(colSums(diff(sim)^2) / colSums(d^2) <= ratio(z)), "by simulation\n")
r1 <- sum((z - mean(z))[-1] * (z - mean(z))[-10]) / sum((z - mean(z))^2)
cat("lag 1", r1, "p", mean(colSums(d[-1, ] * d[-10, ]) / colSums(d^2) >= r1), "by simulation\n")
tr <- lm(z ~ I(0:9))
cat("trend over the day", 9 * coef(tr)[2], 9 * confint(tr)[2, ], "p", summary(tr)$coefficients[2, 4], "\n")
h <- c(93.5, 94, 93.5, 94.5, 94, 93.5)
cat("steps in a standard deviation", sd(h) / .5, "\n")

# Figures of the tests beyond the digits that their sources print.
options(digits = 14)
cat("\nfigures of tests\n")
calibration <- function(x, y, y0, level, readings) {
  m <- lm(y ~ x)
  b <- coef(m)
  n <- length(x)
  s <- summary(m)$sigma
  t <- qt((1 + level) / 2, n - 2)
  ss <- sum((x - mean(x))^2)
  at <- (y0 - b[1]) / b[2]
  pivot <- function(X) (y0 - b[1] - b[2] * X)^2 - t^2 * s^2 * (1 / readings + 1 / n + (X - mean(x))^2 / ss)
  wald <- t * s / abs(b[2]) * sqrt(1 / readings + 1 / n + (at - mean(x))^2 / ss)
  fieller <- c(uniroot(pivot, c(at - 50, at), tol = 1e-14)$root, uniroot(pivot, c(at, at + 50), tol = 1e-14)$root)
  cat("x", at, "Fieller", fieller, "g", t^2 * s^2 / (b[2]^2 * ss), "Wald +/-", wald, "\n")
}
tx <- seq(96, 110, 2)
ty <- c(95.71, 98.16, 99.52, 102.09, 103.79, 106.18, 108.14, 110.21)
calibration(tx, ty, 104, .95, 1)
calibration(tx, ty, 100, .90, 1)
mx <- seq(0, 50, 10)
my <- c(4, 21.2, 44.6, 61.8, 78, 105.2)
calibration(mx, my, 15, .95, 1)
calibration(mx, my, 90, .95, 1)
calibration(mx, my, 90, .95, 5)

jack <- sapply(1:10, function(i) deming(gauge[-i], core[-i], 1))
cat("Deming, ratio 1", deming(gauge, core, 1), "jackknife", sqrt(81 / 10 * apply(jack, 1, var)), "\n")
low <- c(144.8, 144.1, 145.4, 144.2, 146.8, 145.1, 145.5, 146.6, 148.6, 147.0)
lowCore <- c(146.7, 147.4, 147.7, 148.0, 148.5, 148.9, 149.0, 149.0, 149.8, 150.0)
l <- lm(lowCore ~ low)
cat("pulled low", coef(l), confint(l)[2, ], predict(l, data.frame(low = 140)), "\n")
d <- deming(low, lowCore, .09765625)
cat("Deming", d, d[1] + 140 * d[2], "ratio 1", deming(low, lowCore, 1), "\n")

# York's data: the minimum of S, and standard errors from the adjusted points.
york <- function(x, y, ex, ey) {
  S <- function(b) { w <- 1 / (ey^2 + b^2 * ex^2); a <- sum(w * (y - b * x)) / sum(w); sum(w * (y - a - b * x)^2) }
  h <- 1e-3
  b <- optimize(S, c(-2, 2), tol = 1e-12)$minimum
  # optimize leaves 1e-8; the root of the derivative, by central differences with extrapolation, takes it off
  slope <- function(b) (8 * (S(b + h) - S(b - h)) - (S(b + 2 * h) - S(b - 2 * h))) / (12 * h)
  b <- uniroot(slope, b + c(-.01, .01), tol = 1e-14)$root
  w <- 1 / (ey^2 + b^2 * ex^2)
  a <- sum(w * (y - b * x)) / sum(w)
  u <- x + w * b * ex^2 * (y - a - b * x)
  U <- sum(w * u) / sum(w)
  sb <- 1 / sqrt(sum(w * (u - U)^2))
  n <- length(x)
  cat("York", a, b, "errors", sqrt(1 / sum(w) + U^2 * sb^2), sb, "S", S(b), "S/(n-2)", S(b) / (n - 2), "scaled", sqrt(S(b) / (n - 2)) * c(sqrt(1 / sum(w) + U^2 * sb^2), sb), "\n")
}
px <- c(0, .9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4)
py <- c(5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5)
york(px, py, 1 / sqrt(c(1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1)), 1 / sqrt(c(1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500)))
york(px, py, c(.03, .03, .04, .035, .07, .11, .13, .22, .74, 1), c(1, .74, .5, .35, .22, .22, .12, .12, .1, .04))

dye <- list(c(1545, 1440, 1440, 1520, 1580), c(1540, 1555, 1490, 1560, 1495), c(1595, 1550, 1605, 1510, 1560),
            c(1445, 1440, 1595, 1465, 1545), c(1595, 1630, 1515, 1635, 1625), c(1520, 1455, 1450, 1480, 1445))
f <- 5 * var(sapply(dye, mean)) / mean(sapply(dye, var))
u <- f / qf(c(.975, .025), 5, 24)
cat("dyestuff F", f, "icc", (f - 1) / (f + 4), (u - 1) / (u + 4), "mean", sqrt(var(sapply(dye, mean)) / 6), "\n")
rail <- list(c(55, 53, 54), c(26, 37, 32), c(78, 91, 85), c(92, 100, 96), c(49, 51, 50), c(80, 85, 83))
w <- mean(sapply(rail, var))
v <- var(sapply(rail, mean)) - w / 3
cat("rail icc", v / (v + w), "mean", sqrt(var(sapply(rail, mean)) / 6), "\n")
silicon <- list(c(196.3052, 196.124, 196.189, 196.2569, 196.3403), c(196.3042, 196.3825, 196.1669, 196.3257, 196.0422),
                c(196.1303, 196.2005, 196.2889, 196.0343, 196.1811), c(196.2795, 196.1748, 196.1494, 196.1485, 195.9885),
                c(196.2119, 196.1051, 196.185, 196.0052, 196.209))
cat("silicon", var(sapply(silicon, mean)) - mean(sapply(silicon, var)) / 5, "\n")
i <- c(49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1)
r <- mean(abs(diff(i)))
cat("individuals", mean(i) + c(-3, 3) * r * sqrt(pi) / 2, r * (1 + 3 * sqrt(2 - 4 / pi) * sqrt(pi) / 2), "\n")

# Confidence sets without finite ends, and the one through the origin.
xs <- 1:5
ys <- c(2.0, 1.1, 2.6, 1.4, 2.5)
m <- lm(ys ~ xs)
s <- summary(m)$sigma
pivot <- function(X, y0) (y0 - coef(m)[1] - coef(m)[2] * X)^2 / (s^2 * (1 + 1 / 5 + (X - 3)^2 / 10)) - qt(.975, 3)^2
cat("Fieller outside", uniroot(pivot, c(-100, 3), y0 = 6, tol = 1e-13)$root, uniroot(pivot, c(3, 10000), y0 = 6, tol = 1e-13)$root,
    "largest for 2:", optimize(pivot, c(-1e4, 1e4), y0 = 2, maximum = TRUE)$objective, "\n")
m <- lm(core ~ 0 + gauge)
s <- summary(m)$sigma
pivot <- function(X) (145 - coef(m) * X)^2 / (s^2 * (1 / 2 + X^2 / sum(gauge^2))) - qt(.975, 9)^2
cat("Fieller, origin", uniroot(pivot, c(130, 142.5), tol = 1e-13)$root, uniroot(pivot, c(143.2, 160), tol = 1e-13)$root, "\n")
angle <- function(b, x, y, ratio) cor.test(ratio * x + b * y, y - b * x)$p.value - .05
x <- c(7, 8.3, 10.5, 9, 5.1, 8.2, 10.2, 10.3, 7.1, 5.9)
y <- c(7.9, 8.2, 9.6, 9, 6.5, 7.3, 10.2, 10.6, 6.3, 5.2)
for (ratio in c(.25, 1))
  cat("Deming by angle", uniroot(angle, c(.2, .9), x, y, ratio, tol = 1e-14)$root, uniroot(angle, c(1.05, 2.5), x, y, ratio, tol = 1e-14)$root,
      "of 1.2:", angle(1.2, x, y, ratio) + .05, cor.test(ratio * x + 1.2 * y, y - 1.2 * x)$statistic, "\n")
x <- 1:5
y <- c(2, 9, 4, 8, 12)
cat("outside", uniroot(angle, c(-4, -2), x, y, 1, tol = 1e-14)$root, uniroot(angle, c(.5, 1), x, y, 1, tol = 1e-14)$root, "\n")
