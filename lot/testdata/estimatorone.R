# Distribution of the estimate of percent within one limit and expected pay of
# normal lots, independently of the Go code: the noncentral t is not used, but
# integrate() over s of the normal distribution of the mean; the pay integrals by
# integrate() over the percentage. Columns: n, true PWL, sd, P(100), P(>= 90),
# P(>= 75), P(< 55), E(55 + 0.5 PWL), the same at most 100, E of a schedule with
# rejection below 55, 1.4 PWL - 12 to 75, 0.5 PWL + 55 to 90, PWL + 10 to 96, 106.
# Run: Rscript lot/testdata/estimatorone.R
atleast <- function(p, n, true) sapply(p, function(p) {
  if (p <= 0) return(1)
  q <- (2 * qbeta(p / 100, n/2 - 1, n/2 - 1) - 1) * (n - 1) / sqrt(n)
  g <- function(s) 2 * s * (n - 1) * dchisq((n - 1) * s^2, n - 1) * pnorm(sqrt(n) * (qnorm(true / 100) - q * s))
  edges <- c(0, 0.5, 1, 1.5, 2, 3, 6)
  sum(sapply(1:6, function(i) integrate(g, edges[i], edges[i + 1], rel.tol = 1e-10)$value))
})
over <- function(lo, hi, n, true, f = function(x) 1)
  integrate(function(x) f(x) * atleast(x, n, true), lo, hi, rel.tol = 1e-8, subdivisions = 500)$value
for (n in c(3, 5, 10, 20)) for (true in c(90, 80, 70, 50)) {
  p <- function(x) atleast(x, n, true)
  m <- over(0, 100, n, true); m2 <- over(0, 100, n, true, function(x) 2 * x)
  cat(sprintf("{%d, %g, %.3f, %.4f, %.4f, %.4f, %.4f, %.3f, %.3f, %.3f},\n", n, true, sqrt(m2 - m^2), p(100), p(90), p(75), 1 - p(55),
    55 + 0.5 * m, 55 + 0.5 * over(0, 90, n, true),
    65 * p(55) + 1.4 * over(55, 75, n, true) + (92.5 - 93) * p(75) + 0.5 * over(75, 90, n, true) + over(90, 96, n, true)))
}
