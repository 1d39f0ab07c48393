# Reference values of the tests of compared and smooth curves, base R only.
# Run: Rscript tests/reference/thresholds/areas.R   (R 4.2.2)
# 1. Areas of independent groups: the pancreatic markers as if of different people
d <- read.csv("tests/reference/thresholds/wieand_pancreas.csv")
area <- function(x, y) {
  k <- outer(x[y == 1], x[y == 0], function(a, b) (a > b) + (a == b) / 2)
  c(mean(k), var(rowMeans(k)) / nrow(k) + var(colMeans(k)) / ncol(k))
}
a <- area(d$CA19_9, d$cancer); b <- area(d$CA125, d$cancer)
cat(sprintf("unpaired difference %.12f se %.12f\n", a[1] - b[1], sqrt(a[2] + b[2])))
# 2. Clustered: consecutive rows as artificial pairs, Obuchowski 1997 by definition, both markers
x <- list(d$CA19_9, d$CA125); y <- d$cancer; cl <- (seq_along(y) + 1) %/% 2
m <- sum(y == 1); n <- sum(y == 0); I <- length(unique(cl))
I10 <- length(unique(cl[y == 1])); I01 <- length(unique(cl[y == 0]))
dev <- lapply(x, function(v) {
  k <- outer(v[y == 1], v[y == 0], function(a, b) (a > b) + (a == b) / 2)
  r <- numeric(length(y)); r[y == 1] <- rowMeans(k) - mean(k); r[y == 0] <- colMeans(k) - mean(k)
  list(X = tapply(ifelse(y == 1, r, 0), cl, sum), Y = tapply(ifelse(y == 0, r, 0), cl, sum))
})
V <- matrix(0, 2, 2)
for (i in 1:2) for (j in 1:2) V[i, j] <-
  I10 / (I10 - 1) / m^2 * sum(dev[[i]]$X * dev[[j]]$X) + I01 / (I01 - 1) / n^2 * sum(dev[[i]]$Y * dev[[j]]$Y) +
  I / (I - 1) / (m * n) * (sum(dev[[i]]$X * dev[[j]]$Y) + sum(dev[[i]]$Y * dev[[j]]$X))
cat(sprintf("clustered se %.12f %.12f, of the difference %.12f\n", sqrt(V[1, 1]), sqrt(V[2, 2]),
            sqrt(V[1, 1] + V[2, 2] - 2 * V[1, 2])))
# 3. The logit interval of albumin (DeLong 1988), with Welch's degrees of freedom and with z
o <- read.csv("data/classics/ovarian_1988.csv"); y <- o$condition; x <- o$albumin
k <- outer(x[y == 1], x[y == 0], function(a, b) (a > b) + (a == b) / 2)
v10 <- var(rowMeans(k)) / nrow(k); v01 <- var(colMeans(k)) / ncol(k); a <- mean(k)
df <- (v10 + v01)^2 / (v10^2 / (nrow(k) - 1) + v01^2 / (ncol(k) - 1)); s <- sqrt(v10 + v01)
cat(sprintf("normal %.6f %.6f\n", plogis(qlogis(a) - qnorm(.975) * s / (a * (1 - a))), plogis(qlogis(a) + qnorm(.975) * s / (a * (1 - a)))))
cat(sprintf("t %.6f %.6f (df %.4f)\n", plogis(qlogis(a) - qt(.975, df) * s / (a * (1 - a))), plogis(qlogis(a) + qt(.975, df) * s / (a * (1 - a))), df))
