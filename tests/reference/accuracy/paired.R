# Tango's interval by numerical likelihood, Mercaldo's logit interval, and the ratio of predictive
# values, with base R.   Run: Rscript tests/reference/accuracy/paired.R   (R 4.2.2)
options(digits = 10); z <- qnorm(.975)
# score statistic of delta = p10 - p01: profile over p01 (optimize), variance by the full multinomial
tango <- function(a, b, c, d) {
  n <- a + b + c + d
  stat <- function(delta) {
    ll <- function(q) { p10 <- q + delta; r <- 1 - p10 - q; if (p10 < 0 || q < 0 || r < 0) return(-1e10)
      (if (b) b * log(p10) else 0) + (if (c) c * log(q) else 0) + (if (a + d) (a + d) * log(r) else 0) }
    q <- optimize(ll, c(max(0, -delta), (1 - delta) / 2), maximum = TRUE, tol = 1e-13)$maximum
    ((b - c) / n - delta) / sqrt((2 * q + delta - delta^2) / n)
  }
  est <- (b - c) / n
  c(uniroot(function(x) stat(x) - z, c(-1 + 1e-9, est - 1e-9), tol = 1e-12)$root,
    uniroot(function(x) stat(x) + z, c(est + 1e-9, 1 - 1e-9), tol = 1e-12)$root)
}
for (s in list(c(4, 9, 3, 16), c(53, 16, 8, 9), c(1, 1, 7, 12), c(40, 20, 12, 30))) cat("tango", s, ":", format(tango(s[1], s[2], s[3], s[4]), digits = 10), "\n")
# predictive values at prevalence p from TP, FN, FP, TN (Mercaldo, Lau, Zhou 2007, logit)
mercaldo <- function(tp, fn, fp, tn, p) {
  se <- tp / (tp + fn); sp <- tn / (tn + fp); n1 <- tp + fn; n0 <- tn + fp
  ppv <- se * p / (se * p + (1 - sp) * (1 - p)); npv <- sp * (1 - p) / (sp * (1 - p) + (1 - se) * p)
  vp <- (1 - se) / se / n1 + sp / (1 - sp) / n0; vn <- se / (1 - se) / n1 + (1 - sp) / sp / n0
  rbind(c(ppv, plogis(qlogis(ppv) + c(-1, 1) * z * sqrt(vp))), c(npv, plogis(qlogis(npv) + c(-1, 1) * z * sqrt(vn))))
}
print(mercaldo(231, 27, 32, 54, .05)); print(mercaldo(389, 15, 92, 575, .02))
