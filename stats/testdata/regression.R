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
