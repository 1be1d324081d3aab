# Exact distribution of the largest deviation G = (max - mean)/s of n normal values,
# by the recurrence of Grubbs (1950): given that one value is the largest at G, the
# others are a normal sample of n-1 by themselves,
#   P(G_n > t) = n * integral over g from t of f_n(g) P(G_{n-1} <= h(g)) dg,
#   h(g) = g n/(n-1) sqrt((n-2)/((n-1)(1-u^2))), u = g sqrt(n)/(n-1),
# f_n the density of one deviation, u symmetric beta of shape n/2-1. Run in this folder; it
# gives the exact values of the rows e178-onesided in testdata/outliers.csv (R 4.2.2).
points <- 6001
gauss <- list(x = c(-0.9061798459386640, -0.5384693101056831, 0, 0.5384693101056831, 0.9061798459386640),
              w = c(0.2369268850561891, 0.4786286704993665, 0.5688888888888889, 0.4786286704993665, 0.2369268850561891))
below <- function(x) ifelse(x >= 1/sqrt(2), 1, 0) # n = 2
rows <- read.csv("../../testdata/outliers.csv", colClasses = "character")
rows <- rows[startsWith(rows$id, "e178-onesided"), ]
wanted <- data.frame(n = as.numeric(sub("n=([0-9]+);.*", "\\1", rows$input)), alpha = as.numeric(sub(".*alpha=", "", rows$input)),
                     printed = rows$printed, exact = NA)
for (n in 3:max(wanted$n)) {
  lo <- 1/sqrt(n); hi <- (n-1)/sqrt(n)
  # nodes denser at the top, where the density of small n is singular
  nodes <- lo + (hi-lo) * sin(seq(0, pi/2, length.out = points))
  a <- nodes[-points]; b <- nodes[-1]
  total <- 0
  lnc <- lgamma((n-1)/2) - lgamma((n-2)/2) - 0.5*log(pi)
  for (k in 1:5) {
    g <- (a+b)/2 + (b-a)/2*gauss$x[k]
    u <- g*sqrt(n)/(n-1)
    f <- exp(lnc + (n-4)/2*log1p(-u^2)) * sqrt(n)/(n-1)
    total <- total + (b-a)/2*gauss$w[k] * n*f*below(g*n/(n-1)*sqrt((n-2)/((n-1)*(1-u^2))))
  }
  upper <- rev(cumsum(rev(total)))      # P(G > a)
  cdf <- c(1 - upper, 1)
  for (i in which(wanted$n == n)) {
    tail <- c(upper, 0)
    at <- which(diff(tail < wanted$alpha[i]) == 1)[1]
    at <- max(2, at); sel <- (at-3):(at+4); sel <- sel[sel >= 1 & sel < points]
    wanted$exact[i] <- spline(log(tail[sel]), nodes[sel], xout = log(wanted$alpha[i]))$y
  }
  below <- local({ x <- nodes; y <- pmax(0, pmin(1, cdf)); lo0 <- lo; hi0 <- hi
    s <- splinefun(x, y, method = "monoH.FC")
    function(t) ifelse(t <= lo0, 0, ifelse(t >= hi0, 1, s(t))) })
}
print(format(wanted, digits = 8), row.names = FALSE)
