# Second computation of the subgroup charts in charts_test.go and example_charts_test.go,
# with R and nothing but its standard packages:
#
#     Rscript stats/testdata/subgroups.R
options(digits = 12)
chart <- function(m, L = 3) {
  n <- ncol(m)
  c4 <- sqrt(2 / (n - 1)) * gamma(n / 2) / gamma((n - 1) / 2)
  d2 <- integrate(function(x) 1 - pnorm(x)^n - pnorm(-x)^n, -Inf, Inf, rel.tol = 1e-10)$value
  w2 <- integrate(function(w) sapply(w, function(w) 2 * w * (1 - ptukey(w, n, Inf))), 0, 12, rel.tol = 1e-8)$value
  d3 <- sqrt(w2 - d2^2)
  s <- mean(apply(m, 1, sd)); R <- mean(apply(m, 1, function(v) diff(range(v)))); x <- mean(m)
  cat("mean", x, "s", s, "R", R, "\n")
  cat("by s", x + c(-1, 1) * L * s / c4 / sqrt(n), "of s", s * (1 + c(-1, 1) * L * sqrt(1 - c4^2) / c4), "\n")
  cat("by R", x + c(-1, 1) * L * R / d2 / sqrt(n), "of R", R * (1 + c(-1, 1) * L * d3 / d2), "\n")
  u <- pmax(0, c4 + c(-1, 1) * L * sqrt(1 - c4^2)); cat("level of s", diff(pchisq((n - 1) * u^2, n - 1)), "\n")
  u <- pmax(0, d2 + c(-1, 1) * L * d3); cat("level of R", diff(ptukey(u, n, Inf)), "\n")
}
rings <- matrix(c(
  74.03, 74.002, 74.019, 73.992, 74.008,
  73.995, 73.992, 74.001, 74.011, 74.004,
  73.988, 74.024, 74.021, 74.005, 74.002,
  74.002, 73.996, 73.993, 74.015, 74.009,
  73.992, 74.007, 74.015, 73.989, 74.014,
  74.009, 73.994, 73.997, 73.985, 73.993,
  73.995, 74.006, 73.994, 74, 74.005,
  73.985, 74.003, 73.993, 74.015, 73.988,
  74.008, 73.995, 74.009, 74.005, 74.004,
  73.998, 74, 73.99, 74.007, 73.995,
  73.994, 73.998, 73.994, 73.995, 73.99,
  74.004, 74, 74.007, 74, 73.996,
  73.983, 74.002, 73.998, 73.997, 74.012,
  74.006, 73.967, 73.994, 74, 73.984,
  74.012, 74.014, 73.998, 73.999, 74.007,
  74, 73.984, 74.005, 73.998, 73.996,
  73.994, 74.012, 73.986, 74.005, 74.007,
  74.006, 74.01, 74.018, 74.003, 74,
  73.984, 74.002, 74.003, 74.005, 73.997,
  74, 74.01, 74.013, 74.02, 74.003,
  73.988, 74.001, 74.009, 74.005, 73.996,
  74.004, 73.999, 73.99, 74.006, 74.009,
  74.01, 73.989, 73.99, 74.009, 74.014,
  74.015, 74.008, 73.993, 74, 74.01,
  73.982, 73.984, 73.995, 74.017, 74.013), ncol = 5, byrow = TRUE)
cat("piston rings\n"); chart(rings)
mat <- rbind(c(93.8, 94.3, 94.1, 93.6), c(94.0, 93.2, 93.9, 94.4), c(93.1, 93.6, 92.8, 93.5), c(92.5, 92.9, 93.3, 92.2))
cat("percent compaction\n"); chart(mat)
