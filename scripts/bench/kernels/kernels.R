# The kernels in R: Rscript kernels.R <folder> <kernel> <first or warm>. What `inputs.ts` wrote is read first and not measured.
arguments <- commandArgs(TRUE)
folder <- arguments[1]
read <- function(name) read.csv(file.path(folder, name), stringsAsFactors = TRUE)

kernels <- list(

  # survival's Aalen–Johansen estimate with its default error (the infinitesimal jackknife).
  incidence = function() {
    library(survival)
    spells <- read("spells.csv") # the levels are in order: "", check, passed, warp
    function() {
      fit <- survfit(Surv(exit, cause) ~ 1, spells, conf.type = "log-log")
      events <- rowSums(fit$n.event) > 0
      unlist(lapply(2:4, function(state)
        c(fit$pstate[events, state], fit$std.err[events, state], fit$lower[events, state], fit$upper[events, state])))
    }
  },

  # All resamples at once: matrices of resamples × days.
  lots = function() {
    spells <- read("lotSpells.csv")
    draws <- as.matrix(read("lotDraws.csv"))
    lots <- ncol(draws)
    function() {
      rolled <- rep(1, nrow(draws))
      for (own in split(spells, spells$stage)) {
        days <- sort(unique(own$exit[own$cause != ""]))
        count <- function(some, day) draws %*%
          matrix(tabulate(some$lot + 1 + lots * (day - 1), lots * length(days)), lots)
        # Seen last on or after a day of events: at risk then.
        seen <- own[own$exit >= days[1], ]
        ends <- count(seen, findInterval(seen$exit, days))
        ended <- own[own$cause != "", ]
        events <- count(ended, match(ended$exit, days))
        own <- ended[ended$cause == "passed", ]
        passes <- count(own, match(own$exit, days))
        atRisk <- rowSums(ends)
        survival <- 1
        passed <- 0
        for (day in seq_along(days)) {
          n <- pmax(atRisk, 1)
          passed <- passed + survival * passes[, day] / n
          survival <- survival * (1 - events[, day] / n)
          atRisk <- atRisk - ends[, day]
        }
        rolled <- rolled * passed
      }
      rolled
    }
  },

  # All resamples at once, then the corrected percentiles.
  spread = function() {
    values <- read("densities.csv")$density
    draws <- as.matrix(read("densityDraws.csv"))
    function() {
      n <- length(values)
      drawn <- matrix(values[floor(draws * n) + 1], nrow(draws))
      replicates <- sqrt(rowSums((drawn - rowMeans(drawn))^2) / (n - 1))
      estimate <- sd(values)
      without <- vapply(seq_len(n), function(i) sd(values[-i]), 0)
      gap <- mean(without) - without
      acceleration <- sum(gap^3) / (6 * sum(gap^2)^1.5)
      equal <- abs(replicates - estimate) <= 1e-12 * estimate
      bias <- qnorm(mean(replicates < estimate & !equal) + mean(equal) / 2)
      z <- bias + qnorm(c(0.025, 0.975))
      quantile(replicates, pnorm(bias + z / (1 - acceleration * z)), names = FALSE)
    }
  },

  # R's own: bandwidth and density, both by bins, the density 0.1 % off.
  densities = function() {
    values <- read("humps.csv")$density
    function() {
      bandwidth <- bw.SJ(values, tol = 1e-9)
      c(bandwidth, density(values, bw = bandwidth, n = 512, from = 500, to = 900)$y)
    }
  },

  # The density summed directly, as ours is.
  directDensities = function() {
    values <- read("humps.csv")$density
    at <- seq(500, 900, length.out = 512)
    function() {
      bandwidth <- bw.SJ(values, tol = 1e-9)
      c(bandwidth, rowMeans(dnorm(outer(at, values, `-`), sd = bandwidth)))
    }
  },

  # Profit by convolution; the square that adds most for its money, then exchanges between two offers until none helps.
  plan = function() {
    species <- read("species.csv")
    offers <- read("offers.csv")
    price <- offers$unitCost
    most <- offers$available
    budget <- read("budget.csv")$budget
    function() {
      places <- seq_len(nrow(offers))
      served <- lapply(seq_len(nrow(species)), function(s)
        c(0, cumsum(pnbinom(0:sum(most), size = species$size[s], mu = species$mean[s], lower.tail = FALSE))))
      usable <- function(place, q) {
        a <- offers$alpha[place]
        b <- offers$beta[place]
        exp(lchoose(q, 0:q) + lbeta(0:q + a, q - 0:q + b) - lbeta(a, b))
      }
      known <- new.env(hash = TRUE)
      profit <- function(s, squares) {
        own <- places[offers$species == s - 1]
        key <- paste(c(s, squares[own]), collapse = " ")
        if (!is.null(known[[key]])) return(known[[key]])
        supply <- 1
        for (place in own[squares[own] > 0])
          supply <- convolve(supply, rev(usable(place, squares[place])), type = "open")
        shafts <- species$finished[s] + seq_along(supply) - 1
        sold <- sum(supply * served[[s]][shafts + 1])
        known[[key]] <- species$price[s] * sold + species$leftoverValue[s] * (sum(supply * shafts) - sold) -
          species$shortageCost[s] * (species$mean[s] - sold) - sum(squares[own] * price[own])
      }
      total <- function(squares) profit(1, squares) + profit(2, squares)

      squares <- rep(0, length(places))
      best <- total(squares)
      left <- budget
      repeat {
        gains <- vapply(places, function(k) {
          if (squares[k] == most[k] || price[k] > left) return(-Inf)
          (total(replace(squares, k, squares[k] + 1)) - best) / price[k]
        }, 0)
        k <- which.max(gains)
        if (gains[k] <= 1e-9) break
        squares[k] <- squares[k] + 1
        best <- total(squares)
        left <- left - price[k]
      }
      repeat {
        helped <- FALSE
        for (j in places) for (k in places[-j]) for (fewer in 0:squares[j]) for (more in 0:(most[k] - squares[k])) {
          cost <- more * price[k] - fewer * price[j]
          if (cost > left || fewer > squares[j] || squares[k] + more > most[k]) break
          tried <- replace(squares, c(j, k), c(squares[j] - fewer, squares[k] + more))
          value <- total(tried)
          if (value > best + 1e-9) {
            squares <- tried
            best <- value
            left <- left - cost
            helped <- TRUE
          }
        }
        if (!helped) break
      }
      c(best, squares)
    }
  },

  # lpSolve wants as many rows as columns: a hundred orders that every shaft suits alike are added.
  assignment = function() {
    library(lpSolve)
    fits <- as.matrix(read("fits.csv"))
    function() {
      costs <- rbind(ifelse(fits > 0, -fits, 1000), matrix(0, ncol(fits) - nrow(fits), ncol(fits)))
      given <- max.col(lp.assign(costs)$solution)[seq_len(nrow(fits))]
      c(sum(fits[cbind(seq_along(given), given)]), given - 1)
    }
  },

  # clue's Hungarian method, in C.
  hungarian = function() {
    fits <- as.matrix(read("fits.csv"))
    function() {
      given <- as.integer(clue::solve_LSAP(ifelse(fits > 0, 1 - fits, 1000)))
      c(sum(fits[cbind(seq_along(given), given)]), given - 1)
    }
  }
)

run <- kernels[[arguments[2]]]()
clock <- function() as.numeric(Sys.time())
seconds <- c()
start <- clock()
repeat {
  before <- clock()
  result <- run()
  seconds <- c(seconds, clock() - before)
  enough <- length(seconds) >= 31 || (length(seconds) >= 4 && clock() - start > 2)
  if (arguments[3] == "first" || enough) break
}
write(format(result, digits = 17), file.path(folder, paste0(arguments[2], ".R.txt")), 1)
cat(sprintf('{"seconds": %.9f}\n', if (arguments[3] == "first") seconds[1] else median(seconds[-1])))
