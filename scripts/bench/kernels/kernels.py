"""The kernels in numpy and scipy: python3 kernels.py <folder> <kernel> <first or warm>. What `inputs.ts` wrote is read first and not measured."""

import csv
import json
import os
import statistics
import sys
import time

import numpy as np
from scipy import optimize, special, stats

folder, kernel, when = sys.argv[1:]


def rows(name):
    with open(os.path.join(folder, name), newline="") as file:
        return list(csv.DictReader(file))


def numbers(name):
    return np.loadtxt(os.path.join(folder, name), delimiter=",", skiprows=1)


def incidence():
    """Aalen–Johansen with the delta-method error, by running sums over the days."""
    spells = rows("spells.csv")
    days = np.array([int(row["exit"]) for row in spells])
    causes, cause = np.unique([row["cause"] for row in spells], return_inverse=True)

    def run():
        counts = np.array([np.bincount(days[cause == k], minlength=days.max() + 1) for k in range(len(causes))])
        d = counts[1:].sum(0)
        at_risk = counts.sum() - np.concatenate([[0], counts.sum(0).cumsum()[:-1]])
        own = d > 0
        n, d, events = at_risk[own], d[own], counts[1:, own]
        survival = np.cumprod(1 - d / n)
        before = np.concatenate([[1], survival[:-1]])
        with np.errstate(divide="ignore", invalid="ignore"):
            a = np.where(n > d, d / (n * (n - d)), 0)
            parts = []
            for dk in events:
                f = np.cumsum(before * dk / n)
                c = before * dk / n**2
                squares = f**2 * np.cumsum(a) - 2 * f * np.cumsum(f * a) + np.cumsum(f**2 * a)
                own_part = np.cumsum(before**2 * dk * (n - dk) / n**3)
                se = np.sqrt(np.maximum(0, squares + own_part - 2 * (f * np.cumsum(c) - np.cumsum(f * c))))
                spread = stats.norm.ppf(0.975) * se / (f * np.log(f))
                parts += [f, se, f ** np.exp(-spread), f ** np.exp(spread)]
        return np.concatenate(parts)

    return run


def lots():
    """All resamples at once: matrices of resamples × days."""
    spells = rows("lotSpells.csv")
    lot, stage, days = (np.array([int(row[key]) for row in spells]) for key in ("lot", "stage", "exit"))
    causes = np.array([row["cause"] for row in spells])
    draws = numbers("lotDraws.csv")

    def run():
        rolled = 1
        for k in range(3):
            own = stage == k
            times = np.unique(days[own & (causes != "")])

            def count(some, day):
                table = np.zeros((draws.shape[1], len(times)))
                np.add.at(table, (lot[some], day), 1)
                return draws @ table

            seen = own & (days >= times[0])
            ends = count(seen, np.searchsorted(times, days[seen], side="right") - 1)
            at_risk = np.maximum(ends[:, ::-1].cumsum(1)[:, ::-1], 1)
            ended, passed = own & (causes != ""), own & (causes == "passed")
            stay = 1 - count(ended, np.searchsorted(times, days[ended])) / at_risk
            before = np.concatenate([np.ones((len(draws), 1)), stay.cumprod(1)[:, :-1]], 1)
            rolled = rolled * (before * count(passed, np.searchsorted(times, days[passed])) / at_risk).sum(1)
        return rolled

    return run


def spread():
    """All resamples at once, then the corrected percentiles."""
    values = numbers("densities.csv")
    draws = numbers("densityDraws.csv")

    def run():
        replicates = values[(draws * len(values)).astype(int)].std(axis=1, ddof=1)
        estimate = values.std(ddof=1)
        without = np.array([np.delete(values, i).std(ddof=1) for i in range(len(values))])
        gap = without.mean() - without
        acceleration = (gap**3).sum() / (6 * (gap**2).sum() ** 1.5)
        equal = abs(replicates - estimate) <= 1e-12 * estimate
        bias = special.ndtri(((replicates < estimate) & ~equal).mean() + equal.mean() / 2)
        z = bias + special.ndtri([0.025, 0.975])
        return np.quantile(replicates, special.ndtr(bias + z / (1 - acceleration * z)))

    return run


def densities():
    """scipy has no such bandwidth: the equation solved over bins as R does, then scipy's density."""
    values = numbers("humps.csv")
    at = np.linspace(500, 900, 512)

    def run():
        n = len(values)
        s = values.std(ddof=1)
        scale = min(s, np.subtract(*np.quantile(values, [0.75, 0.25])) / 1.349)
        step = 1.01 * np.ptp(values) / 1000
        bins = np.trunc(values / step).astype(int)
        counts = np.bincount(bins - bins.min())
        pairs = np.correlate(counts, counts, "full")[len(counts) - 1 :].astype(float)
        pairs[0] = (pairs[0] - n) / 2
        squares = (np.arange(len(pairs)) * step) ** 2

        def fourth(h):
            d = squares / h**2
            total = pairs @ (np.exp(-d / 2) * (d**2 - 6 * d + 3))
            return (2 * total + 3 * n) / (n * (n - 1) * h**5 * np.sqrt(2 * np.pi))

        def sixth(h):
            d = squares / h**2
            total = pairs @ (np.exp(-d / 2) * (d**3 - 15 * d**2 + 45 * d - 15))
            return (15 * n - 2 * total) / (n * (n - 1) * h**7 * np.sqrt(2 * np.pi))

        alpha = 1.357 * (fourth(1.24 * scale * n ** (-1 / 7)) / sixth(1.23 * scale * n ** (-1 / 9))) ** (1 / 7)
        miss = lambda h: (2 * np.sqrt(np.pi) * n * fourth(alpha * h ** (5 / 7))) ** -0.2 - h
        bandwidth = optimize.brentq(miss, 0.1144 * scale * n**-0.2, 1.144 * scale * n**-0.2, xtol=1e-10)
        return np.concatenate([[bandwidth], stats.gaussian_kde(values, bandwidth / s)(at)])

    return run


def plan():
    """Profit by convolution; the square that adds most for its money, then exchanges between two offers until none helps."""
    species = numbers("species.csv")
    offers = numbers("offers.csv")
    price, most = offers[:, 3], offers[:, 4].astype(int)
    budget = float(numbers("budget.csv"))

    def run():
        size = int(most.sum()) + 1
        known = {}
        served = []
        for _, mean, r, *_ in species:
            beyond = stats.nbinom.sf(np.arange(size), r, r / (r + mean))
            served.append(np.concatenate([[0], beyond.cumsum()]))

        def usable(place, q):
            if (place, q) not in known:
                k = np.arange(q + 1)
                a, b = offers[place, 1:3]
                log_choose = -np.log(q + 1) - special.betaln(k + 1, q - k + 1)
                known[place, q] = np.exp(log_choose + special.betaln(k + a, q - k + b) - special.betaln(a, b))
            return known[place, q]

        def profit(s, part):
            if (s, part) in known:
                return known[s, part]
            finished, mean, _, income, shortage, leftover = species[s]
            supply = np.ones(1)
            for place, q in enumerate(part):
                if q > 0:
                    supply = np.convolve(supply, usable(6 * s + place, q))
            shafts = int(finished) + np.arange(len(supply))
            sold = supply @ served[s][shafts]
            cost = sum(q * price[6 * s + place] for place, q in enumerate(part))
            made = income * sold + leftover * (supply @ shafts - sold) - shortage * (mean - sold) - cost
            known[s, part] = made
            return made

        def total(squares):
            return profit(0, tuple(squares[:6])) + profit(1, tuple(squares[6:]))

        places = range(len(offers))
        squares = [0] * len(offers)
        best, left = total(squares), budget

        while True:
            steps = []
            for k in places:
                if squares[k] < most[k] and price[k] <= left:
                    squares[k] += 1
                    steps.append(((total(squares) - best) / price[k], k))
                    squares[k] -= 1
            if not steps or max(steps)[0] <= 1e-9:
                break
            k = max(steps)[1]
            squares[k] += 1
            best, left = total(squares), left - price[k]
        helped = True
        while helped:
            helped = False
            for j in places:
                for k in places:
                    if k == j:
                        continue
                    for fewer in range(squares[j] + 1):
                        for more in range(most[k] - squares[k] + 1):
                            cost = more * price[k] - fewer * price[j]
                            if cost > left or fewer > squares[j] or squares[k] + more > most[k]:
                                break
                            tried = squares.copy()
                            tried[j] -= fewer
                            tried[k] += more
                            value = total(tried)
                            if value > best + 1e-9:
                                squares, best, left, helped = tried, value, left - cost, True
        return np.array([best, *squares])

    return run


def assignment():
    fits = numbers("fits.csv")

    def run():
        orders, shafts = optimize.linear_sum_assignment(np.where(fits > 0, -fits, 1000))
        return np.array([fits[orders, shafts].sum(), *shafts])

    return run


run = {each.__name__: each for each in (incidence, lots, spread, densities, plan, assignment)}[kernel]()
seconds = []
start = time.perf_counter()
while True:
    before = time.perf_counter()
    result = run()
    seconds.append(time.perf_counter() - before)
    enough = len(seconds) >= 31 or (len(seconds) >= 4 and time.perf_counter() - start > 2)
    if when == "first" or enough:
        break
np.savetxt(os.path.join(folder, f"{kernel}.python.txt"), result, "%.17g")
print(json.dumps({"seconds": seconds[0] if when == "first" else statistics.median(seconds[1:])}))
