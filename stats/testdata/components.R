# Second computation of the variance components, their intervals and expected mean
# squares in components_test.go, with R and nothing but its standard packages:
#
#     Rscript stats/testdata/components.R
options(digits = 15)
low <- function(n, alpha) 1 - n / qchisq(1 - alpha / 2, n)
high <- function(n, alpha) n / qchisq(alpha / 2, n) - 1

# Ting et al. (1990): limits of (M1 - M2)/J.
difference <- function(M1, M2, n1, n2, J, alpha = .05) {
  g1 <- low(n1, alpha); h1 <- high(n1, alpha); g2 <- low(n2, alpha); h2 <- high(n2, alpha)
  up <- qf(1 - alpha / 2, n1, n2); down <- qf(alpha / 2, n1, n2)
  G <- ((up - 1)^2 - g1^2 * up^2 - h2^2) / up
  H <- ((1 - down)^2 - h1^2 * down^2 - g2^2) / down
  (M1 - M2 + c(-1, 1) * sqrt(c(g1^2 * M1^2 + h2^2 * M2^2 + G * M1 * M2, h1^2 * M1^2 + g2^2 * M2^2 + H * M1 * M2))) / J
}
# Graybill and Wang (1980): limits of sum(f * M).
total <- function(M, n, f, alpha = .05)
  sum(f * M) + c(-1, 1) * sqrt(c(sum((low(n, alpha) * f * M)^2), sum((high(n, alpha) * f * M)^2)))
satterthwaite <- function(M, n, f, alpha = .05) {
  v <- sum(f * M)
  df <- v^2 / sum((f * M)^2 / n)
  c(df, df * v / qchisq(c(1 - alpha / 2, alpha / 2), df))
}

cat("dyestuff: batch, total, both by Satterthwaite, within\n")
M <- c(11271.5, 2451.25)
print(difference(M[1], M[2], 5, 24, 5))
print(total(M, c(5, 24), c(.2, .8)))
print(satterthwaite(M, c(5, 24), c(.2, -.2)))
print(satterthwaite(M, c(5, 24), c(.2, .8)))
print(24 * M[2] / qchisq(c(.975, .025), 24))

cat("oxide: lot, wafer, site, total\n")
M <- c(9025 + 23 / 72, 1922 + 2 / 3, 603 + 1 / 3) / c(7, 16, 48) # sums of squares by aov
print(difference(M[1], M[2], 7, 16, 9))
print(difference(M[2], M[3], 16, 48, 3))
print(48 * M[3] / qchisq(c(.975, .025), 48))
print(total(M, c(7, 16, 48), c(1 / 9, 1 / 3 - 1 / 9, 1 - 1 / 3)))

cat("unbalanced: degrees of freedom, sums of squares, expectations, estimates, error of mean\n")
lot <- c(1, 1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 3, 3, 3)
sublot <- c(1, 1, 1, 2, 2, 3, 3, 1, 1, 2, 2, 1, 1, 1, 1, 2, 3, 3)
y <- c(92.1, 92.6, 91.9, 93.0, 93.3, 91.2, 91.8, 94.0, 94.4, 93.1, 93.6, 95.2, 95.0, 94.4, 95.9, 94.1, 96.0, 95.1)
n <- length(y)
A <- model.matrix(~ 0 + factor(lot))
B <- model.matrix(~ 0 + factor(lot):factor(sublot))
B <- B[, colSums(B) > 0]
project <- function(Z) Z %*% solve(t(Z) %*% Z) %*% t(Z)
Q <- list(project(A) - matrix(1 / n, n, n), project(B) - project(A), diag(n) - project(B))
df <- sapply(Q, function(q) round(sum(diag(q))))
ss <- sapply(Q, function(q) drop(t(y) %*% q %*% y))
K <- sapply(list(A, B, diag(n)), function(Z) sapply(Q, function(q) sum(diag(t(Z) %*% q %*% Z)))) / df
v <- solve(K, ss / df)
print(df); print(ss); print(K); print(v)
print(sqrt(sum(sapply(list(A, B, diag(n)), function(Z) sum(colSums(Z)^2)) * v)) / n)
w <- drop(K[1, 2:3] %*% solve(K[2:3, 2:3])) / K[1, 1] # of the lower mean squares; the last is negative
M <- c(1 / K[1, 1], abs(w)) * ss / df
plus <- M[1] + M[3]
dfPlus <- plus^2 / (M[1]^2 / df[1] + M[3]^2 / df[3])
cat("weights below; F of lots, its df and P, F of sublots; lot\n")
print(w)
print(c(plus / M[2], dfPlus, df[2], pf(plus / M[2], dfPlus, df[2], lower.tail = FALSE), ss[2] / df[2] / ss[3] * df[3]), digits = 15)
print(difference(plus, M[2], dfPlus, df[2], 1))

cat("one way, sizes 3, 4 and 2: mean square of means, harmonic mean, limits, intraclass\n")
g <- list(c(92, 93, 94), c(94, 95, 96, 95), c(93, 94))
h <- 3 / sum(1 / lengths(g))
U <- h * var(sapply(g, mean))
f <- U / .75 / qf(c(.975, .025), 2, 6)
print(c(U, h)); print(difference(U, .75, 2, 6, h)); print((f - 1) / (f - 1 + h))
