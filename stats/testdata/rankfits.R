# Second computation of the figures in theilsen_test.go, passingbablok_test.go and their
# examples, by the definitions and with nothing but R's standard packages:
#
#     Rscript stats/testdata/rankfits.R
options(digits = 15)
slopes <- function(x, y) {
  p <- combn(length(x), 2)
  dx <- x[p[2, ]] - x[p[1, ]]
  dy <- y[p[2, ]] - y[p[1, ]]
  list(dx = dx, dy = dy)
}
theil <- function(x, y, level) {
  d <- slopes(x, y)
  s <- sort((d$dy / d$dx)[d$dx != 0])
  n <- length(x)
  t <- table(x)
  v <- (n * (n - 1) * (2 * n + 5) - sum(t * (t - 1) * (2 * t + 5))) / 18
  r <- floor((length(s) - qnorm(1 - (1 - level) / 2) * sqrt(v)) / 2)
  b <- median(s)
  cat("Theil-Sen: pairs", length(s), "b", b, "a", median(y - b * x), "r", r, "limits", s[r], s[length(s) + 1 - r], "\n")
}
# The exact distribution of discordant pairs, by going through all orders of y.
exact <- function(x) {
  n <- length(x)
  perms <- function(v) if (length(v) <= 1) list(v) else do.call(c, lapply(seq_along(v), function(i) lapply(perms(v[-i]), function(p) c(v[i], p))))
  p <- combn(n, 2)
  use <- x[p[1, ]] != x[p[2, ]]
  sgn <- sign(x[p[2, use]] - x[p[1, use]])
  d <- sapply(perms(1:n), function(o) sum(sgn * (o[p[2, use]] - o[p[1, use]]) < 0))
  cat("discordant", table(d), "\n")
}
passing <- function(x, y, level) {
  d <- slopes(x, y)
  keep <- !(d$dx == 0 & d$dy == 0)
  s <- ifelse(d$dx == 0, Inf, d$dy / d$dx)[keep]
  s <- sort(s[s != -1])
  n <- length(x)
  N <- length(s)
  K <- sum(s < -1)
  b <- if (N %% 2) s[(N + 1) / 2 + K] else (s[N / 2 + K] + s[N / 2 + 1 + K]) / 2
  a <- median(y - b * x)
  C <- qnorm(1 - (1 - level) / 2) * sqrt(n * (n - 1) * (2 * n + 5) / 18)
  m <- floor((N - C) / 2 + 0.5)
  lim <- c(s[m + K], s[N - m + 1 + K])
  r <- y - (a + b * x)
  l <- sum(r > 0)
  L <- sum(r < 0)
  score <- ifelse(r > 0, sqrt(L / l), ifelse(r < 0, -sqrt(l / L), 0))
  cusum <- max(abs(cumsum(score[order((y + x / b - a) / sqrt(1 + 1 / b^2))])))
  h <- cusum / sqrt(L + 1)
  k <- 1:100
  cat("Passing-Bablok: N", N, "K", K, "b", b, "a", a, "M1", m, "limits", lim, "of a", median(y - lim[2] * x), median(y - lim[1] * x),
      "cusum", cusum, "h", h, "p", 2 * sum((-1)^(k - 1) * exp(-2 * k^2 * h^2)), "\n")
}
gauge <- c(142.1, 140.9, 140.7, 138.9, 143.6, 142.4, 141.3, 139.8, 143.3, 141.0)
core <- c(144.9, 142.8, 143.1, 140.7, 145.1, 144.2, 143.8, 142.8, 144.8, 143.0)
theil(gauge, core, 0.95)
passing(gauge, core, 0.95)
# ties in both, an equal pair of points and falling pairs
x <- c(3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 9, 2)
y <- c(3.1, 1.4, 4.2, 0.9, 5.5, 8.6, 2.5, 5.9, 5.5, 3.1, 4.4, 9.2, 3.2)
theil(x, y, 0.9)
passing(x, y, 0.9)
passing(y, x, 0.9)
exact(c(1, 1, 2, 3, 3, 3, 4))
exact(1:7)
