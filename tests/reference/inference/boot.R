# Bootstrap limits of a ratio by R's recommended package boot (Davison and Hinkley 1997), its own data
# "city", acceleration by the jackknife: Rscript tests/reference/inference/boot.R
library(boot)
print(t(city))
ratio <- function(d, i) mean(d$x[i]) / mean(d$u[i])
limits <- function(R) {
  b <- boot(city, ratio, R = R)
  L <- empinf(data = city, statistic = ratio, type = "jack", stype = "i")
  ci <- boot.ci(b, conf = 0.95, type = c("perc", "basic", "bca"), L = L)
  c(b$t0, sd(b$t), ci$percent[4:5], ci$basic[4:5], ci$bca[4:5])
}
set.seed(24)
print(limits(99999), digits = 8)
# how far the limits of 19,999 draws move with the seed
print(apply(sapply(1:10, function(s) { set.seed(s); limits(19999) }), 1, sd), digits = 3)
