# Shapiro-Wilk by shapiro.test of R, and Anderson-Darling by its sums with pnorm on the
# log scale, over sets of several shapes and sizes, for normality_test.go:
#
#     Rscript stats/testdata/normality.R > stats/testdata/normality.csv
#
# A set of up to 40 values stands in the file, a longer one as "residues n of m to the k":
# (i*7919 mod m)^k for i from 1 to n, which are whole numbers.
options(digits = 17)
set.seed(20261125)
ad <- function(x) {
  n <- length(x); z <- sort((x - mean(x)) / sd(x)); i <- seq_len(n)
  a <- -n - mean((2 * i - 1) * (pnorm(z, log.p = TRUE) + pnorm(rev(z), lower.tail = FALSE, log.p = TRUE)))
  b <- a * (1 + 0.75 / n + 2.25 / n^2)
  p <- if (b >= 0.6) exp(1.2937 - 5.709 * b + 0.0186 * b^2)
    else if (b >= 0.34) exp(0.9177 - 4.279 * b - 1.38 * b^2)
    else if (b > 0.2) 1 - exp(-8.318 + 42.796 * b - 59.938 * b^2)
    else 1 - exp(-13.436 + 101.14 * b - 223.73 * b^2)
  c(a, b, p)
}
line <- function(text, x) {
  s <- shapiro.test(x)
  a <- if (length(x) >= 8) ad(x) else rep(NA, 3)
  cat(text, sprintf("%.15g", c(s$statistic, s$p.value, a)), sep = ","); cat("\n")
}
cat("values,W,p,A2,adjusted,p of A2\n")
shapes <- list(function(n) rnorm(n, 93, 1.2), function(n) runif(n), function(n) rexp(n), function(n) rt(n, 3), function(n) rlnorm(n, 0, 1.5),
  function(n) c(rnorm(n - 1, 147, 0.8), 120), function(n) round(rnorm(n, 93, 1.2), 1), function(n) rbeta(n, 0.4, 0.4))
for (n in c(3, 4, 5, 6, 7, 8, 10, 11, 12, 13, 20, 25, 40)) for (f in shapes) {
  x <- signif(f(n), 6)
  line(paste(format(x, digits = 7, trim = TRUE, scientific = FALSE, drop0trailing = TRUE), collapse = " "), x)
}
for (s in list(c(50, 10007, 1), c(200, 10007, 2), c(500, 1009, 3), c(1000, 10007, 1), c(2000, 10007, 2), c(4999, 10007, 1), c(5000, 10007, 2)))
  line(sprintf("residues %d of %d to the %d", s[1], s[2], s[3]), ((seq_len(s[1]) * 7919) %% s[2])^s[3])
# the example
x <- c(93.2, 92.8, 93.9, 93.5, 92.1, 93.0, 94.2, 93.7, 90.1, 93.3, 92.6, 93.8, 89.4, 93.1, 92.9, 94.0, 93.4, 91.0, 92.7, 93.6, 92.4, 94.4, 90.6, 93.15)
line(paste(format(x, digits = 7, trim = TRUE, drop0trailing = TRUE), collapse = " "), x)
# S. S. Shapiro and M. B. Wilk, Biometrika 52 (1965) 591: weights of 11 men, pounds
x <- c(148, 154, 158, 160, 161, 162, 166, 170, 182, 195, 236)
line(paste(x, collapse = " "), x)
