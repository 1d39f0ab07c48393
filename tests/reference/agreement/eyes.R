# Two eyes of a child: variance between children and within by R's recommended package nlme (REML), whose
# balanced estimates are those of the analysis of variance: Rscript tests/reference/agreement/eyes.R
library(nlme)
d <- c(-0.50, -0.25, 0.00, 0.25, -0.75, -1.00, 0.50, 0.25, -0.25, -0.25, 0.75, 0.25,
       -1.25, -0.75, 0.00, -0.50, 0.25, 0.50, -0.50, -0.75, 1.25, 0.75, -0.25, 0.00)
child <- factor(rep(1:12, each = 2))
fit <- lme(d ~ 1, random = ~ 1 | child)
v <- as.numeric(VarCorr(fit)[, "Variance"])
s <- summary(fit)$tTable
print(c(between = v[1], within = v[2], sd = sqrt(sum(v)), bias = s[1, 1], error = s[1, 2]), digits = 10)
print(c(icc = v[1] / sum(v)), digits = 10)
