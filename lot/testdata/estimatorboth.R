# P(estimate of percent within two limits >= p) for normal lots, independently of
# the Go code: integrate() over s with the means at which the estimate is p found by
# uniroot() on pbeta(). Columns: n, percent below and above, p, probability.
# Run: Rscript lot/testdata/estimatorboth.R
pwl <- function(m, s, n, L, U) {
  f <- function(q) pbeta(pmin(pmax(0.5 + q * sqrt(n) / (2 * (n - 1)), 0), 1), n/2 - 1, n/2 - 1)
  f((m - L) / s) + f((U - m) / s) - 1
}
# share of sample means (normal, sd 1/sqrt(n)) at which the estimate is at least p
share <- function(s, p, n, L, U) {
  mid <- (L + U) / 2; g <- function(m) pwl(mid + m, s, n, L, U) - p
  within <- function(r) pnorm((mid + r) * sqrt(n)) - pnorm((mid - r) * sqrt(n))
  peak <- if (n == 3) abs((U - L) / 2 - s * (n - 1) / sqrt(n)) else 0
  if (g(peak) < 0) return(0)
  far <- (U - L) / 2 + s * (n - 1) / sqrt(n) + 1
  outer <- uniroot(g, c(peak, far), tol = 1e-14)$root
  inner <- if (g(0) < 0) uniroot(g, c(0, peak), tol = 1e-14)$root else NA
  within(outer) - if (is.na(inner)) 0 else within(inner)
}
atleast <- function(p, n, below, above) {
  L <- qnorm(below / 100); U <- -qnorm(above / 100)
  g <- function(s) 2 * s * (n - 1) * dchisq((n - 1) * s^2, n - 1) *
    sapply(s, share, p = p / 100, n = n, L = L, U = U)
  edges <- seq(0, 6, by = 0.02)
  sum(sapply(seq_len(length(edges) - 1), function(i)
    integrate(g, edges[i], edges[i + 1], rel.tol = 1e-10, abs.tol = 1e-14, stop.on.error = FALSE)$value))
}
cases <- list(c(3, 5, 5, 90), c(3, 20, 10, 60), c(3, 25, 25, 95), c(4, 5, 5, 85), c(4, 30, 20, 50), c(5, 5, 5, 90),
  c(5, 8, 2, 85), c(5, 20, 30, 60), c(5, 45, 45, 20), c(7, 10, 5, 75), c(10, 5, 5, 90), c(10, 15, 15, 70), c(20, 10, 2, 85))
for (k in cases) cat(sprintf("{%d, lot.Quality{Below: %g, Above: %g}, %g, %.10f},\n", k[1], k[2], k[3], k[4],
  atleast(k[4], k[1], k[2], k[3])))
