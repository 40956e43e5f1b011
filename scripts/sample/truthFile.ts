import {dayNumber, dayText, monthIndex, monthOf, months, monthText} from "../../lib/book/day.ts";
import type {Fault} from "./faults.ts";
import {meanDemand} from "./orders.ts";
import type {Workshop} from "./simulate.ts";
import {asOf, buying, firstDay, seed, turnForTheWorse} from "./truth.ts";
import {counts, fates, sum} from "./truthCounts.ts";
import {demand, money, orderHabits, windows} from "./truthDemand.ts";
import * as feel from "./truthFeel.ts";
import * as measuring from "./truthMeasuring.ts";
import * as stages from "./truthStages.ts";
import {densityTruth, mean, supplierTruth} from "./truthSuppliers.ts";
import {endTruth, stageTruth} from "./truthYield.ts";

/** truth.json: what the book was made with, and how it came out. */
export function truthFile(workshop: Workshop, faults: readonly Fault[]): string {
  const {lots, pieces} = workshop;
  const truth = {
    about:
      "True values behind the sample book. 'Parameter' is a value the generator was given, or what follows from it by " +
      "expectation; 'realised' is how the finite number of squares came out when every one is followed to the end. " +
      "Shares are of 1. Counts are those of the true history, before the deliberate faults.",
    seed,
    asOf,
    firstDay,
    yield: endTruth(pieces),
    yieldBySpecies: {
      ash: endTruth(pieces.filter(({lot}) => lot.species === "ash")),
      maple: endTruth(pieces.filter(({lot}) => lot.species === "maple"))
    },
    stages: stageTruth(pieces),
    lotLogitSd: stages.lotLogitSd,
    suppliers: supplierTruth(pieces),
    gotWorse: turnForTheWorse,
    windowsKgM3: windows,
    density: densityTruth(pieces),
    dwell: dwell(workshop),
    hurry: stages.hurry,
    offWeight: stages.offWeight,
    measuringSd: measuring.measuringSd,
    rounding: measuring.written,
    lathe: {...measuring.lathe, lengthSdMm: measuring.latheLengthSdMm},
    moistureAtPurchase: measuring.moistureAtPurchase,
    dryingTimeConstantDays: measuring.dryingDays,
    rings: measuring.rings,
    feel: {
      from: feel.feelFrom,
      share: feel.feelShare,
      bendTest: feel.bendTest,
      deflectionSdMm: feel.deflectionSdMm,
      modulus: feel.modulus,
      grains: feel.grains,
      colours: feel.colours,
      wishes: feel.wishes
    },
    buying,
    demand: demandTruth(workshop),
    money,
    counts: counts(workshop),
    afterRefusedRows:
      "The discard without a defect is refused, so a reader of the sound rows counts that piece as in stock; the two short lots leave two squares unaccounted for.",
    fateOfPiecesInStock: fates(lots, pieces),
    faults
  };
  return `${JSON.stringify(truth, (_, value) => (typeof value === "number" ? rounded(value) : value), 1)}\n`;
}

/** Four decimals: the last digits of a double may differ between machines. */
function rounded(value: number): number {
  return Math.round(value * 1e4) / 1e4;
}

function dwell({pieces}: Workshop) {
  const passed = pieces.flatMap(({stays}) => stays.filter(({left}) => left === "turned"));
  const realisedMeanDaysOfPasses = stages.restStages.map((stage) => {
    return [stage, mean(passed.filter((stay) => stay.stage === stage).map(({from, to}) => to - from))];
  });
  const finished = pieces.filter(({finishedOn}) => finishedOn !== undefined);
  const lead = finished.map(({finishedOn, lot}) => finishedOn! - lot.boughtOn).sort((a, b) => a - b);
  return {
    restDays: stages.restDays,
    delayAfterRest: stages.delay,
    earlyDiscard: stages.earlyDiscard,
    realisedMeanDaysOfPasses: Object.fromEntries(realisedMeanDaysOfPasses),
    realisedDaysFromPurchaseToShaft: {
      mean: mean(lead),
      tenth: lead[Math.floor(lead.length * 0.1)],
      median: lead[Math.floor(lead.length / 2)],
      ninetieth: lead[Math.floor(lead.length * 0.9)]
    }
  };
}

function demandTruth({orders}: Workshop) {
  const all = months(demand.firstMonth, monthOf(asOf));
  const next = months(monthText(monthIndex(monthOf(asOf)) + 1), monthText(monthIndex(monthOf(asOf)) + 12));
  const nextSeason = months("2027-06", "2028-05");
  const of = (species: "ash" | "maple") => ({
    parameterMeanByMonthFirstYear: demand.shapeByMonth.map((shape) => demand.meanPerMonth[species] * shape),
    parameterNextTwelveMonths: sum(next.map((month) => meanDemand(species, month))),
    parameterSeasonFrom202706: sum(nextSeason.map((month) => meanDemand(species, month))),
    realisedByMonth: Object.fromEntries(
      all.map((month) => {
        const ordered = orders.filter((order) => order.species === species && ofMonth(order.orderedOn, month));
        return [month, sum(ordered.map(({quantity}) => quantity))];
      })
    )
  });
  return {...demand, habits: orderHabits, ash: of("ash"), maple: of("maple")};
}

function ofMonth(day: number, month: string): boolean {
  return dayText(day).startsWith(month) && day <= dayNumber(asOf);
}
