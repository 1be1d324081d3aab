# Second computation of restricted maximum likelihood in reml_test.go: the likelihood from
# the whole covariance matrix, its maximum and profile by R's own searches, and beside
# them lme of the package nlme, with R and its recommended packages:
#
#     Rscript stats/testdata/reml.R
options(digits = 12)
library(nlme)
y <- c(92.1, 92.6, 91.9, 93.0, 93.3, 91.2, 91.8, 94.0, 94.4, 93.1, 93.6, 95.2, 95.0, 94.4, 95.9, 94.1, 96.0, 95.1)
lot <- c(1, 1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 3, 3, 3)
sublot <- c(1, 1, 1, 2, 2, 3, 3, 1, 1, 2, 2, 1, 1, 1, 1, 2, 3, 3)
alike <- function(g) outer(g, g, "==") * 1
parts <- list(alike(lot), alike(10 * lot + sublot), diag(18))

study <- function(y, parts) {
  n <- length(y)
  k <- length(parts)
  lik <- function(v) {
    V <- Reduce(`+`, Map(`*`, parts, v))
    L <- chol(V)
    one <- backsolve(L, rep(1, n), transpose = TRUE)
    z <- backsolve(L, y, transpose = TRUE)
    m <- sum(one * z) / sum(one^2)
    structure(-sum(log(diag(L))) - log(sum(one^2)) / 2 - sum((z - m * one)^2) / 2 - (n - 1) / 2 * log(2 * pi), mean = m, se = 1 / sqrt(sum(one^2)))
  }
  climb <- function(free, put, start) {
    best <- NULL
    for (again in 1:6) {
      best <- optim(start, function(s) -lik(put(s^2)), method = "BFGS", control = list(reltol = 1e-15, maxit = 1000))
      start <- best$par
    }
    best
  }
  all <- climb(k, function(v) v, rep(1, k))
  v <- all$par^2
  cat("variances", format(v, digits = 9), "likelihood", format(-all$value, digits = 12), "mean", attr(lik(v), "mean"), attr(lik(v), "se"), "\n")
  for (i in 1:k) {
    drop <- function(x) {
      p <- climb(k - 1, function(s) append(s, x, i - 1), sqrt(pmax(v[-i], 1e-3)))
      2 * (-all$value + p$value) - qchisq(0.95, 1)
    }
    low <- if (i < k && drop(0) <= 0) 0 else uniroot(drop, c(v[i] / 50, v[i]), tol = 1e-10)$root
    high <- uniroot(drop, c(v[i] + 1e-6, 200 * v[i] + 20), tol = 1e-9)$root
    cat("component", i, "from", format(low, digits = 8), "to", format(high, digits = 8), "\n")
  }
}
cat("lots, sublots, cores\n")
study(y, parts)
fit <- lme(y ~ 1, random = ~ 1 | lot / sublot, control = lmeControl(msTol = 1e-12, tolerance = 1e-12))
print(VarCorr(fit)); print(logLik(fit)); print(summary(fit)$tTable)
cat("lots and cores\n")
study(y, parts[c(1, 3)])
fit <- lme(y ~ 1, random = ~ 1 | lot, control = lmeControl(msTol = 1e-12, tolerance = 1e-12))
print(VarCorr(fit)); print(logLik(fit))
cat("a component at 0: locations, readings\n")
z <- c(93.1, 94.9, 92.6, 95.3, 93.8, 92.2, 95.0, 94.4, 93.2)
location <- c(1, 1, 2, 2, 2, 3, 3, 3, 3)
study(z, list(alike(location), diag(9)))
cat("the example\n")
w <- c(92.1, 92.4, 93.0, 93.2, 92.6, 94.6, 93.9, 94.1, 93.0, 93.1, 92.9, 92.2)
lot <- c(1, 1, 1, 1, 1, 2, 2, 2, 3, 3, 3, 3)
study(w, list(alike(lot), alike(10 * lot + c(1, 1, 2, 2, 3, 1, 2, 2, 1, 1, 1, 2)), diag(12)))
cat("standard errors by numerical second derivatives of lme, oxide\n")
f <- lme(Thickness ~ 1, random = ~ 1 | Lot / Wafer, data = Oxide)
print(intervals(f)$reStruct); print(intervals(f)$sigma)
