# HC3 errors of least squares (MacKinnon and White 1985; Long and Ervin 2000) by R's lm, hatvalues and
# solve: Rscript tests/reference/agreement/hc3.R
test <- c(2.1, 2.9, 4.2, 4.8, 6.5, 6.9, 8.4, 8.8, 10.1, 11.3, 11.8, 13.4)
reference <- 1:12
age <- c(3, 3, 4, 4, 5, 5, 7, 7, 6, 6, 8, 8)
fit <- lm(test - reference ~ age + reference)
X <- model.matrix(fit)
u <- residuals(fit) / (1 - hatvalues(fit))
bread <- solve(crossprod(X))
V <- bread %*% crossprod(X * u) %*% bread
print(sqrt(diag(V)), digits = 10)
b <- coef(fit)[-1]
F <- as.numeric(t(b) %*% solve(V[-1, -1]) %*% b) / 2
print(c(F, pf(F, 2, 9, lower.tail = FALSE)), digits = 10)
# slope of the difference on the mean, both in hand
m <- (test + reference) / 2
g <- lm(test - reference ~ m)
X <- model.matrix(g); u <- residuals(g) / (1 - hatvalues(g)); bread <- solve(crossprod(X))
print(c(coef(g)[2], sqrt((bread %*% crossprod(X * u) %*% bread)[2, 2])), digits = 10)
