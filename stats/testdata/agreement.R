# Second computation of the figures in agreement_test.go and the examples of agreement,
# with R and nothing but its standard packages:
#
#     Rscript stats/testdata/agreement.R
options(digits = 13)
wright1 <- c(494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427)
wright2 <- c(490, 397, 512, 401, 470, 611, 415, 431, 638, 429, 420, 633, 275, 492, 165, 372, 421)
mini1 <- c(512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451)
mini2 <- c(525, 415, 508, 444, 500, 625, 460, 390, 642, 432, 420, 605, 227, 467, 268, 370, 443)

# noncentral t by its definition, as P(Z < t·w - ncp) over w = sqrt(chi²/df)
pnct <- function(t, df, ncp) integrate(function(w) pnorm(t * w - ncp) * 2 * df * w * dchisq(df * w^2, df), 0, Inf, rel.tol = 1e-12)$value
qnct <- function(p, df, ncp) uniroot(function(t) pnct(t, df, ncp) - p, c(ncp - 20, ncp + 60), tol = 1e-12)$root
# P(content of mean ± k·s is at least the coverage)
tolerance <- function(n, coverage, confidence) {
  r <- function(m) uniroot(function(r) pnorm(m + r) - pnorm(m - r) - coverage, c(0, m + 20), tol = 1e-13)$root
  p <- function(k) 2 * integrate(function(x) sapply(x, function(x) dnorm(x) * pchisq((n - 1) * r(x / sqrt(n))^2 / k^2, n - 1, lower.tail = FALSE)), 0, 8, rel.tol = 1e-10)$value
  uniroot(function(k) p(k) - confidence, c(1, 20), tol = 1e-10)$root
}
limits <- function(d, level, z) {
  n <- length(d); m <- mean(d); s <- sd(d); a <- 1 - level
  h <- qt(1 - a / 2, n - 1) * s / sqrt(n)
  cat("mean", m, "sd", s, "ci", m - h, m + h, "limits", m - z * s, m + z * s, "\n")
  w <- qt(1 - a / 2, n - 1) * s * sqrt((1 + z^2 / 2) / n)
  cat("  approximate", m - z * s - w, m - z * s + w, m + z * s - w, m + z * s + w, "\n")
  q <- c(qnct(a / 2, n - 1, z * sqrt(n)), qnct(1 - a / 2, n - 1, z * sqrt(n))) * s / sqrt(n)
  cat("  exact", m - q[2], m - q[1], m + q[1], m + q[2], "\n")
  k <- tolerance(n, 2 * pnorm(z) - 1, level)
  cat("  tolerance", m - k * s, m + k * s, "\n")
}
limits(wright1 - mini1, 0.95, 2)
limits(wright1 - mini1, 0.95, qnorm(0.975))
cat("logs\n")
limits(log(wright1 / mini1), 0.95, qnorm(0.975))

replicated <- function(x, y, level, coverage, linked = FALSE) {
  n <- length(x); a <- 1 - level; z <- qnorm((1 + coverage) / 2)
  scatter <- function(g) { m <- lengths(g); list(v = if (all(m == 1)) 0 else sum(sapply(g, function(v) sum((v - mean(v))^2))) / sum(m - 1), df = sum(m - 1), share = mean(1 / m)) }
  parts <- if (linked) list(scatter(Map(`-`, x, y))) else list(scatter(x), scatter(y))
  d <- sapply(x, mean) - sapply(y, mean)
  ms <- c(var(d), sapply(parts, function(p) p$v * (1 - p$share)))
  df <- c(n - 1, sapply(parts, function(p) p$df))
  v <- sum(ms)
  lo <- v - sqrt(sum((1 - df / qchisq(1 - a / 2, df))^2 * ms^2))
  hi <- v + sqrt(sum((df / qchisq(a / 2, df) - 1)^2 * ms^2))
  h <- qt(1 - a / 2, n - 1) * sd(d) / sqrt(n)
  i <- sqrt(h^2 + z^2 * (sqrt(v) - sqrt(lo))^2)
  o <- sqrt(h^2 + z^2 * (sqrt(hi) - sqrt(v))^2)
  l <- mean(d) + c(-z, z) * sqrt(v)
  cat("replicated: mean", mean(d), "half", h, "within", sapply(parts, function(p) sqrt(p$v)), df[-1], "sd", sqrt(v), "ci", sqrt(c(lo, hi)),
      "beyond", sqrt(max(0, var(d) - sum(sapply(parts, function(p) p$v * p$share)))), "limits", l, "ci", l[1] - o, l[1] + i, l[2] - i, l[2] + o, "\n")
}
two <- function(a, b) Map(c, a, b)
replicated(two(wright1, wright2), two(mini1, mini2), 0.95, 0.95)
x <- list(c(6.83, 6.7, 6.6), c(7.9, 8.1), c(4.5), c(5.2, 5.5, 5.4, 5.1), c(6.1, 6.0))
y <- list(c(6.2, 6.4, 6.5), c(7.4, 7.6), c(4.1), c(5.3, 4.9, 5.0, 5.2), c(5.9, 6.3))
replicated(x, y, 0.9, 0.95)
replicated(x, y, 0.9, 0.95, linked = TRUE)

regression <- function(x, y, size, level, z) {
  d <- x - y; m <- (x + y) / 2; n <- length(d); a <- 1 - level
  f <- lm(d ~ m); g <- lm(abs(resid(f)) ~ m)
  cat("bias", coef(f), "p", summary(f)$coefficients[2, 4], "spread", coef(g), "p", summary(g)$coefficients[2, 4], "\n")
  b <- sum(coef(f) * c(1, size)); s <- summary(f)$sigma; h <- sqrt(1 / n + (size - mean(m))^2 / sum((m - mean(m))^2))
  q <- c(qnct(a / 2, n - 2, z / h), qnct(1 - a / 2, n - 2, z / h)) * s * h
  cat("  at", size, b, "ci", b + c(-1, 1) * qt(1 - a / 2, n - 2) * s * h, "sd", s, "limits", b - z * s, b + z * s, "exact", b - q[2], b - q[1], b + q[1], b + q[2], "\n")
  cat("  sd by line", sqrt(pi / 2) * sum(coef(g) * c(1, size)), "\n")
}
regression(wright1, mini1, 500, 0.95, qnorm(0.975))
gauge <- c(142.1, 140.9, 140.7, 138.9, 143.6, 142.4, 141.3, 139.8, 143.3, 141.0)
other <- c(142.9, 141.2, 141.5, 139.1, 144.9, 143.1, 141.4, 140.3, 144.2, 141.6)
limits(gauge - other, 0.95, qnorm(0.975))
limits(log(gauge / other), 0.95, qnorm(0.975))
regression(gauge, other, 142, 0.95, qnorm(0.975))
again <- gauge + c(0.3, -0.2, 0.1, 0.4, -0.3, 0.2, 0, -0.1, 0.2, -0.4)
back <- other + c(-0.1, 0.3, 0.2, -0.2, 0.1, -0.3, 0.4, 0.1, 0, -0.2)
replicated(two(gauge, again), two(other, back), 0.95, 0.95)
replicated(two(gauge, again), two(other, back), 0.95, 0.95, linked = TRUE)
