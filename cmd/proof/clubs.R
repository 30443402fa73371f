# A mixed model of each golfer's balls (lme4, REML), for `ferrule simulate -bench clubs
# -mixed cmd/proof/clubs.R`: club, setting within club and visit are random effects; the
# visit is nobody's. Writes golfer, club, setting, expected carry and side.
suppressMessages(library(lme4))
d <- read.csv(file("stdin"))
d$at <- interaction(d$club, d$setting, drop = TRUE)
for (g in unique(d$golfer)) {
  one <- droplevels(d[d$golfer == g, ])
  new <- unique(one[, c("club", "setting", "at")])
  says <- function(y) {
    one$y <- one[[y]]
    m <- suppressMessages(suppressWarnings(lmer(y ~ 1 + (1 | club) + (1 | at) + (1 | visit), one)))
    predict(m, new, re.form = ~ (1 | club) + (1 | at))
  }
  cat(sprintf("%d %d %d %.6f %.6f\n", g, new$club, new$setting, says("carry"), says("side")), sep = "")
}
