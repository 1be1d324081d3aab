# Bounds of the true percent within two limits at 0 and 2h by inversion of the signed
# root of the likelihood ratio, as the comment of lot.WithinInterval defines it, with
# what R has: pnorm, uniroot, optimize, integrate and a spline. A sample has the
# distance d of its mean inside the nearer limit and the spread s; it is worth n results
# for the mean and df degrees of freedom for the spread. tau is a common error with tdf
# degrees of freedom, rho a repeatability that is certain. R 4.2.2:
#
#	Rscript lot/testdata/interval.R

# means of all populations with the share theta within, over v = sqrt(2 ln(widest/sigma))
populations <- function(theta, h) {
  widest <- h/qnorm((1 + theta)/2)
  v <- seq(0, 7, length.out = 2801)
  sigma <- widest*exp(-v^2/2)
  share <- function(m) ifelse(m > 0, 1 - pnorm(-m/sigma) - pnorm((m - 2*h)/sigma), pnorm(m/sigma) - pnorm((m - 2*h)/sigma))
  lo <- -40*sigma
  hi <- rep(h, length(v))
  for (i in 1:200) {
    m <- (lo + hi)/2
    less <- share(m) < theta
    lo[less] <- m[less]
    hi[!less] <- m[!less]
  }
  m[1] <- h
  list(theta = theta, h = h, v = v, widest = widest, score = splinefun(v, m/sigma, method = "natural"))
}

deviance <- function(v, p, d, s, a) {
  sigma <- p$widest*exp(-v^2/2)
  total <- sigma^2 + a$rho^2
  a$df*(s^2/total - 1 - log(s^2/total)) + (d - p$score(v)*sigma)^2/(total/a$n + a$tau^2)
}

signedroot <- function(p, d, s, a) {
  all <- deviance(p$v, p, d, s, a)
  i <- which.min(all)
  near <- p$v[pmax(1, pmin(length(all), c(i - 1, i + 1)))]
  best <- optimize(deviance, near, p = p, d = d, s = s, a = a, tol = 1e-10)
  v <- if (best$objective <= all[i]) best$minimum else p$v[i]
  own <- if (s >= a$rho) 0 else a$df*(s^2/a$rho^2 - 1 - log(s^2/a$rho^2))
  left <- sqrt(max(0, s^2 - a$rho^2))
  share <- if (left == 0) as.numeric(d > 0) else pnorm((2*p$h - d)/left) - pnorm(-d/left)
  list(root = sqrt(max(0, min(best$objective, all[i]) - own))*(if (share > p$theta) 1 else -1), v = v)
}

# probability of a sample at least as good
better <- function(theta, h, d, s, a) {
  p <- populations(theta, h)
  seen <- signedroot(p, d, s, a)
  sigma <- p$widest*exp(-seen$v^2/2)
  mean <- p$score(seen$v)*sigma
  total <- sigma^2 + a$rho^2
  w <- if (is.infinite(a$tdf)) 1 else sqrt(qchisq((1:2000 - 0.5)/2000, a$tdf)/a$tdf)
  deviation <- sqrt(total/a$n + (a$tau/w)^2)
  spread <- function(z) sqrt(total*qchisq(pnorm(z), a$df)/a$df)
  inside <- function(s) {
    above <- function(x) signedroot(p, x, s, a)$root - seen$root
    if (above(h) < 0) return(0)
    from <- h - 1
    while (above(from) > 0) from <- h - 2*(h - from)
    x <- uniroot(above, c(from, h), tol = 1e-9)$root
    mean(pnorm((2*h - x - mean)/deviation) - pnorm((x - mean)/deviation))
  }
  middle <- function(z) signedroot(p, h, spread(z), a)$root - seen$root
  end <- if (middle(7) > 0) 7 else uniroot(middle, c(-7, 7), tol = 1e-9)$root
  integrate(function(z) sapply(spread(z), inside)*dnorm(z), -7, end, rel.tol = 1e-6, subdivisions = 400)$value
}

bounds <- function(h, d, s, n, tail, df = n - 1, tau = 0, tdf = Inf, rho = 0) {
  a <- list(n = n, df = df, tau = tau, tdf = tdf, rho = rho)
  at <- function(p) uniroot(function(z) qnorm(better(pnorm(z), h, d, s, a)) - qnorm(p), c(-1, 2), tol = 1e-6, extendInt = "yes")$root
  cat(format(100*pnorm(c(at(tail), at(1 - tail))), digits = 7), "\n")
}

bounds(2.5, 1.16, sqrt(0.893), 5, 0.05)
bounds(1.6, 1.2, 1, 3, 0.05)
bounds(1.5, 1.5, 1, 10, 0.05)
bounds(2, -1.5, 1, 4, 0.05)
bounds(2.5, 1.16, sqrt(0.893), 5, 0.005)
bounds(2.5, 1.16, sqrt(0.893), 5, 0.05, tau = 0.24, rho = 0.32)
bounds(2.5, 1.16, sqrt(0.893), 5, 0.05, tau = 0.24, tdf = 9)
bounds(2, 1.5, 1, 3.2, 0.05, df = 30.25/9.25)

# samples that vary less than they repeat
cat(format(better(0.6, 2.5, 1.16, sqrt(0.893), list(n = 5, df = 4, tau = 0.24, tdf = Inf, rho = 1.2)), digits = 7), "\n")
cat(format(better(0.95, 2.5, 1.16, sqrt(0.893), list(n = 5, df = 4, tau = 0.24, tdf = Inf, rho = 1.2)), digits = 7), "\n")
cat(format(better(0.9, 1.5, 1, 0.5, list(n = 4, df = 3, tau = 0, tdf = Inf, rho = 1.3)), digits = 7), "\n")
