# Second computation for interlaboratory_test.go, with R and nothing but its standard
# packages; glucose in serum of ASTM E691, materials A and E, as in the R package ILS:
#
#     Rscript stats/testdata/interlaboratory.R
options(digits = 12)
A <- rbind(c(41.03, 41.45, 41.37), c(41.17, 42, 41.15), c(41.01, 40.68, 42.66), c(39.37, 42.37, 42.63),
           c(41.88, 41.19, 41.32), c(43.28, 40.5, 42.28), c(41.08, 41.27, 39.02), c(43.36, 42.65, 41.72))
E <- rbind(c(292.78, 294.09, 292.89), c(292.27, 309.4, 295.08), c(295.53, 290.14, 292.34), c(295.19, 295.44, 296.83),
           c(293.93, 292.48, 294.28), c(297.74, 296.8, 290.33), c(287.29, 293.76, 289.36), c(298.46, 295.28, 296.12))
study <- function(x) {
  p <- nrow(x); n <- ncol(x)
  table <- anova(lm(c(t(x)) ~ factor(rep(1:p, each = n))))
  M <- table[["Mean Sq"]]; df <- table[["Df"]]; f <- c(1 / n, 1 - 1 / n)
  sr <- sqrt(M[2])
  cat("s(r)", sr, "from", sqrt(df[2] * M[2] / qchisq(c(.975, .025), df[2])), "\n")
  low <- 1 - df / qchisq(.975, df); high <- df / qchisq(.025, df) - 1
  v <- sum(f * M)
  cat("s(L)", sqrt(max(0, (M[1] - M[2]) / n)), "s(R)", sqrt(max(v, M[2])), "from", sqrt(v + c(-1, 1) * sqrt(c(sum((low * f * M)^2), sum((high * f * M)^2)))), "\n")
  means <- rowMeans(x)
  print((means - mean(means)) / sd(means), digits = 10)
  print(apply(x, 1, sd) / sr, digits = 10)
}
study(A)
study(E)
cat("the example\n")
study(rbind(c(2.341, 2.346, 2.343), c(2.338, 2.344, 2.340), c(2.352, 2.349, 2.355), c(2.343, 2.340, 2.344)))
p <- 8; n <- 3
t <- qt(1 - .0025, p - 2)
F <- qf(.995, n - 1, (p - 1) * (n - 1))
cat("critical h", (p - 1) * t / sqrt(p * (t^2 + p - 2)), "k", sqrt(p / (1 + (p - 1) / F)), "\n")
h <- sapply(3:30, function(p) { t <- qt(1 - .0025, p - 2); (p - 1) * t / sqrt(p * (t^2 + p - 2)) })
print(round(h, 4))
k <- sapply(2:10, function(n) sapply(3:12, function(p) sqrt(p / (1 + (p - 1) / qf(.995, n - 1, (p - 1) * (n - 1))))))
print(round(k, 4))
