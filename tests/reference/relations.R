# Pooled and robust fits by R for relations.test.ts: the folder of the data in, one JSON object out.
suppressMessages({ library(nlme); library(MASS) })
folder <- commandArgs(trailingOnly = TRUE)[1]
read <- function(name) read.csv(file.path(folder, name), comment.char = "#")
between <- function(fit) as.numeric(VarCorr(fit)[, "Variance"])

orthodont <- read("orthodont.csv")
one <- lme(distance ~ age, random = ~ 1 | Subject, data = orthodont)
orthodont$precision <- 1 + (orthodont$age - 8) / 2
weighted <- lme(distance ~ age, random = ~ 1 | Subject, weights = varFixed(~ 1 / precision), data = orthodont)

penicillin <- read("penicillin.csv")
penicillin$all <- factor(1)
crossed <- lme(diameter ~ 1, data = penicillin,
  random = list(all = pdBlocked(list(pdIdent(~ plate - 1), pdIdent(~ sample - 1)))))
variances <- between(crossed)

robust <- rlm(stack.loss ~ ., read("stackloss.csv"), maxit = 500, acc = 1e-12)

norris <- read.table(file.path(folder, "Norris.dat"), skip = 60, nrows = 36, col.names = c("y", "x"))
line <- lm(y ~ x, norris)

results <- list(
  norrisResiduals = unname(rstudent(line)), norrisCook = unname(cooks.distance(line)), norrisLeverages = unname(hatvalues(line)),
  oneFixed = unname(fixef(one)), oneVariances = between(one), oneEffects = unname(ranef(one)[order(rownames(ranef(one))), 1]),
  weightedFixed = unname(fixef(weighted)), weightedVariances = between(weighted),
  crossedFixed = unname(fixef(crossed)), crossedVariances = c(variances[1], variances[25], variances[31]),
  robust = unname(coef(robust)), robustSpread = robust$s, robustScale = summary(robust)$stddev, robustWeights = unname(robust$w)
)
parts <- sapply(names(results), function(name)
  sprintf('"%s":[%s]', name, paste(sprintf("%.12g", results[[name]]), collapse = ",")))
cat("{", paste(parts, collapse = ",\n"), "}\n")
