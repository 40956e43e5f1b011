import {Command, InvalidArgumentError} from "commander";
import {randomStream} from "../lib/stats/random.ts";
import {decisions} from "./calibrate/advice.ts";
import {intervalTrials} from "./calibrate/intervals.ts";
import {scenarios} from "./calibrate/scenarios.ts";
import {adviceTable, coverageTable, type Lost, type Tally} from "./calibrate/tables.ts";
import {drawWorkshop} from "./calibrate/workshop.ts";
import {exitCodes} from "./command.ts";

// How often the intervals of the reports hold the truth, and what following the advice loses, in simulated workshops. Prints two Markdown tables.

const count = (text: string) => {
  const number = Number(text);
  if (!Number.isInteger(number) || number < 0) throw new InvalidArgumentError("Give a whole number, 0 or more.");
  return number;
};
const options = new Command("calibrate")
  .description("Simulate workshops with a known truth: how often intervals hold it, and what the buying advice loses")
  .option("--workshops <number>", "workshops of each kind for the intervals", count, 400)
  .option("--decisions <number>", "of these, how many also buy for a year", count, 100)
  .option("--seed <number>", "starts the random numbers", count, 20)
  .addHelpText(
    "after",
    "\nSome ten minutes as it stands; prints two Markdown tables.\nExample: npx tsx scripts/calibrate.ts --workshops 50 --decisions 20"
  )
  .exitOverride(({exitCode}) => process.exit(exitCode === 0 ? exitCodes.done : exitCodes.usage))
  .parse()
  .opts<{workshops: number; decisions: number; seed: number}>();

const coverage = new Map<string, Map<string, Tally>>();
const advice = new Map<string, Map<string, Lost>>();
for (const [name, truth] of Object.entries(scenarios)) {
  process.stderr.write(`${name} …\n`);
  const random = randomStream(options.seed);
  const held = new Map<string, Tally>();
  const lost = new Map<string, Lost>();
  for (let i = 0; i < options.workshops; i++) {
    const workshop = drawWorkshop(truth, random);
    for (const {of, low, high, truth: value} of intervalTrials(truth, workshop)) {
      const tally = held.get(of) ?? {intervals: 0, held: 0};
      held.set(of, {intervals: tally.intervals + 1, held: tally.held + (low <= value && value <= high ? 1 : 0)});
    }
    const made = i < options.decisions ? decisions(truth, workshop) : undefined;
    if (!made) continue;
    const best = made[0]!.profit;
    for (const {by, profit} of made) {
      const before = lost.get(by) ?? {years: 0, lost: 0, squares: 0, best: 0};
      const missed = best - profit;
      lost.set(by, {
        years: before.years + 1,
        lost: before.lost + missed,
        squares: before.squares + missed ** 2,
        best: before.best + best
      });
    }
  }
  coverage.set(name, held);
  advice.set(name, lost);
}
const run = `${options.workshops} workshops of each kind, seed ${options.seed}`;
process.stdout.write(`${coverageTable(coverage)}\n${run}.\n\n${adviceTable(advice)}\n`);
