# Sizes of area studies by base R's uniroot, from the formulas; R 4.2.2.
# Run: Rscript tests/reference/planning/area.R > tests/reference/planning/area.json
V <- function(a, n1, n0) { A <- 1.414 * qnorm(a)
  f <- 0.0099 * exp(-A^2 / 2); c(f * (5 * A^2 + 8) / n1, f * (A^2 + 8) / n0) }
H <- function(a, n1, n0) { q1 <- a / (2 - a); q2 <- 2 * a^2 / (1 + a)
  (a * (1 - a) + (n1 - 1) * (q1 - a^2) + (n0 - 1) * (q2 - a^2)) / (n1 * n0) }
solve <- function(f) uniroot(f, c(8, 1e6), tol = 1e-9)$root
half <- function(n, a, p) { v <- V(a, n * p, n * (1 - p)); s <- sqrt(sum(v)) / (a * (1 - a))
  df <- sum(v)^2 / (v[1]^2 / (n * p - 1) + v[2]^2 / (n * (1 - p) - 1))
  diff(plogis(qlogis(a) + c(-1, 1) * qt(.975, df) * s)) / 2 }
null <- function(n, a, a0, p, alpha) pnorm((a - a0 - qnorm(1 - alpha) * sqrt(sum(V(a0, n * p, n * (1 - p))))) / sqrt(sum(V(a, n * p, n * (1 - p)))))
two <- function(n, a, b, r, p, var) { v1 <- var(a, n * p, n * (1 - p)); v2 <- var(b, n * p, n * (1 - p))
  pnorm((abs(a - b) - qnorm(.975) * sqrt(2 * v1 * (1 - r))) / sqrt(v1 + v2 - 2 * r * sqrt(v1 * v2))) }
O <- function(a, n1, n0) sum(V(a, n1, n0))
cat(sprintf('{"half": %.8f, "null": %.8f, "two": %.8f, "hanleySe": %.12f, "hanleySe50": %.12f}\n',
  solve(function(n) half(n, .85, .2) - .05), solve(function(n) null(n, .8, .7, .3, .025) - .8),
  solve(function(n) two(n, .9, .85, .5, .3, O) - .8), sqrt(H(.8, 50, 100)), sqrt(H(.8, 50, 50))))
