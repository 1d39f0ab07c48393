# Corrected sensitivity and specificity: posterior by base R, and the delta method by numerical
# derivatives of the estimator over the multinomial sizes and binomial rates.
# Run: Rscript tests/reference/accuracy/verification.R   (R 4.2.2)
estimate <- function(w, p, q, k) { # w: shares of (T+, T-) by stratum
  pos <- w[seq_len(k)]; neg <- w[k + seq_len(k)]
  c(sum(pos * p) / (sum(pos * p) + sum(neg * q)), sum(neg * (1 - q)) / (sum(neg * (1 - q)) + sum(pos * (1 - p))))
}
delta <- function(tp, fp, fn, tn, up, un) {
  k <- length(tp); m1 <- tp + fp; m0 <- fn + tn; N <- sum(m1, m0, up, un)
  w <- c(m1 + up, m0 + un) / N; theta <- c(w, tp / m1, fn / m0)
  f <- function(t) estimate(t[1:(2 * k)], t[2 * k + 1:k], t[3 * k + 1:k], k)
  h <- 1e-6; J <- sapply(seq_along(theta), function(i) { e <- replace(0 * theta, i, h); (f(theta + e) - f(theta - e)) / (2 * h) })
  V <- matrix(0, 4 * k, 4 * k); V[1:(2 * k), 1:(2 * k)] <- (diag(w) - w %o% w) / N
  p <- tp / m1; q <- fn / m0
  V[cbind(2 * k + 1:k, 2 * k + 1:k)] <- p * (1 - p) / m1; V[cbind(3 * k + 1:k, 3 * k + 1:k)] <- q * (1 - q) / m0
  list(estimate = f(theta), se = sqrt(diag(J %*% V %*% t(J))))
}
jeffreys <- function(tp, fp, fn, tn, up, un, B = 4e5) {
  set.seed(1); k <- length(tp); n <- c(tp + fp + up, fn + tn + un)
  g <- sapply(n, function(a) rgamma(B, a + .5)); w <- g / rowSums(g)
  p <- sapply(1:k, function(i) rbeta(B, tp[i] + .5, fp[i] + .5)); q <- sapply(1:k, function(i) rbeta(B, fn[i] + .5, tn[i] + .5))
  P <- w[, 1:k, drop = FALSE]; Q <- w[, k + 1:k, drop = FALSE]
  se <- rowSums(P * p) / (rowSums(P * p) + rowSums(Q * q)); sp <- rowSums(Q * (1 - q)) / (rowSums(Q * (1 - q)) + rowSums(P * (1 - p)))
  rbind(quantile(se, c(.025, .975)), quantile(sp, c(.025, .975)))
}
options(digits = 10)
# hepatic scintigraphy (Drum and Christacopoulos 1972), one stratum
print(delta(231, 32, 27, 54, 166, 140)); print(jeffreys(231, 32, 27, 54, 166, 140))
# coronary disease by age below and from 60 (counts of Kosinski and Barnhart 2003), two strata
print(delta(c(67, 128), c(133, 99), c(1, 4), c(21, 18), c(547, 449), c(783, 438)))
# a programme with no missed case among 40 passes examined (invented)
print(jeffreys(30, 20, 0, 40, 10, 900))
