import {type Expected, expected, type Kind} from "./expected.ts";
import {groups} from "./groups.ts";
import type {Piece} from "./pieces.ts";
import {decidedByAsOf, realised} from "./realised.ts";
import {defects, restStages} from "./truthStages.ts";

/** The mean of what is expected of each square, whatever its kind. */
export function expectedOf(pieces: readonly Piece[]): Expected {
  const kinds = groups(pieces, ({lot}) => `${lot.supplier.name} ${lot.species} ${lot.worse}`);
  const parts = [...kinds.values()].map((some) => {
    const {supplier, species, worse} = some[0]!.lot;
    return {share: some.length / pieces.length, ...expected({supplier, species, worse})};
  });
  const mean = (of: (part: Expected) => number) => parts.reduce((sum, part) => sum + part.share * of(part), 0);
  const result = structuredClone(parts[0]!) as Expected;
  for (const stage of restStages) {
    for (const what of ["reached", "passed", "diverted"] as const)
      result[what][stage] = mean((part) => part[what][stage]);
    for (const {name} of defects) result.discarded[stage][name] = mean((part) => part.discarded[stage][name] ?? 0);
  }
  return result;
}

/** Stage by stage: the chance to pass for a piece that reached it, as a parameter and as it turned out. */
export function stageTruth(pieces: readonly Piece[]) {
  const parameter = expectedOf(pieces);
  const outcome = realised(pieces);
  const decided = decidedByAsOf(pieces);
  return restStages.map((stage, index) => ({
    stage,
    passProbabilityParameter: parameter.passed[stage] / parameter.reached[stage],
    passShareRealisedToTheEnd: outcome.passed[stage] / outcome.reached[stage],
    discardProbabilityParameter: total(parameter.discarded[stage]) / parameter.reached[stage],
    divertProbabilityParameter: parameter.diverted[stage] / parameter.reached[stage],
    decidedByAsOf: decided[index]!
  }));
}

/** Shares of the squares bought, if all are followed to the end: shafts, diverted, and discarded by each defect. */
export function endTruth(pieces: readonly Piece[]) {
  return {squares: pieces.length, parameter: ends(expectedOf(pieces)), realisedToTheEnd: ends(realised(pieces))};
}

/** The same for squares of one kind of which perhaps none was bought. */
export function kindTruth(kind: Kind) {
  return ends(expected(kind));
}

function ends({passed, diverted, discarded}: Expected) {
  const byDefect = defects.map(({name}) => [name, total(restStages.map((stage) => discarded[stage][name] ?? 0))]);
  return {
    finished: passed["proud-round"],
    diverted: total(diverted),
    discarded: total(restStages.map((stage) => total(discarded[stage]))),
    discardedByDefect: Object.fromEntries(byDefect) as Record<string, number>,
    discardedByStage: Object.fromEntries(restStages.map((stage) => [stage, total(discarded[stage])])) as Record<
      string,
      number
    >
  };
}

function total(shares: Record<string, number> | readonly number[]): number {
  return Object.values(shares).reduce((sum, share) => sum + share, 0);
}
