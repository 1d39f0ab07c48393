# Ratio and odds ratio of two independent proportions: limits by definition, with base R.
# Run: Rscript tests/reference/accuracy/ratios.R   (R 4.2.2)
# Koopman 1984: the constrained likelihood is maximised numerically (optimize), not in closed form.
koopman <- function(x1, n1, x2, n2, z = qnorm(.975)) {
  stat <- function(r) {
    ll <- function(p2) dbinom(x1, n1, min(1, r * p2), log = TRUE) + dbinom(x2, n2, p2, log = TRUE)
    p2 <- optimize(ll, c(0, min(1, 1 / r)), maximum = TRUE, tol = 1e-13)$maximum; p1 <- r * p2
    (x1 - n1 * p1)^2 / (n1 * p1 * (1 - p1)) + (x2 - n2 * p2)^2 / (n2 * p2 * (1 - p2)) - z^2
  }
  est <- (x1 / n1) / (x2 / n2)
  f <- function(l) stat(exp(l))
  inside <- if (is.finite(est) && est > 0) log(est) else if (est == 0) -25 else 25
  inside <- if (is.finite(est) && est > 0) inside + 1e-6 else inside
  lo <- if (x1 == 0) 0 else exp(uniroot(f, c(-15, inside), tol = 1e-12)$root)
  hi <- if (x2 == 0) Inf else exp(uniroot(f, c(inside, 15), tol = 1e-12)$root)
  c(est, lo, hi)
}
cornfield <- function(x1, n1, x2, n2, z = qnorm(.975)) {
  m <- x1 + x2
  # expected first cell a under odds ratio exp(l): by uniroot on the cross ratio, not in closed form
  stat <- function(a) (x1 - a)^2 * (1 / a + 1 / (n1 - a) + 1 / (m - a) + 1 / (n2 - m + a)) - z^2
  or <- function(a) a * (n2 - m + a) / ((n1 - a) * (m - a))
  lower <- max(0, m - n2); upper <- min(n1, m); e <- 1e-10
  est <- x1 * (n2 - x2) / ((n1 - x1) * x2)
  lo <- if (est == 0) 0 else or(uniroot(stat, c(lower + e, x1 - 1e-9 * (x1 == upper) ), tol = 1e-13)$root)
  hi <- if (!is.finite(est)) Inf else or(uniroot(stat, c(x1 + 1e-9 * (x1 == lower), upper - e), tol = 1e-13)$root)
  c(est, lo, hi)
}
options(digits = 9)
sets <- list(c(670, 744, 202, 842), c(389, 404, 92, 667), c(12, 12, 3, 40), c(7, 34, 1, 34), c(9, 20, 0, 15), c(0, 20, 4, 15), c(20, 20, 15, 15))
for (s in sets) {
  cat("ratio", s, ":", format(do.call(koopman, as.list(s)), digits = 9), "\n")
  if (!(s[1] == s[2] && s[3] == s[4])) cat("odds ", s, ":", format(do.call(cornfield, as.list(s)), digits = 9), "\n")
}
