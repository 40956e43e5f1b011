import {type BookCounts, countsInOrder} from "./bookCounts.ts";
import {dayText} from "./day.ts";
import type {Settings} from "./settings.ts";

/** The counts of one workshop under its name. */
export interface NamedCounts {
  name: string;
  counts: BookCounts;
}

/**
 * The counts of several workshops as those of one: lots and orders under their workshop's name, as numbers may be given in each; suppliers of one
 * name are one. Money, season, rests and what else is set are those of the first workshop, with species, defects and suppliers that only others have.
 *
 * Checked: tests/book/addCounts.test.ts
 *
 * @returns the sum, or why there can be none: days, stages, windows and woods of a species must be the same, as squares are counted by them
 */
export function addCounts(workshops: readonly NamedCounts[]): {counts: BookCounts} | {why: string} {
  const [first] = workshops;
  if (!first) return {why: "There are no counts to add."};
  for (const {name, counts} of workshops) {
    const why = apart(counts, first.counts);
    if (why) return {why: `${name} and ${first.name} cannot be added up: ${why}`};
  }
  const of = <T>(rows: (counts: BookCounts, name: (own: string) => string) => readonly T[]): T[] =>
    workshops.flatMap(({name, counts}) => rows(counts, (own) => `${name}/${own}`));
  const books = workshops.flatMap(({name, counts}) =>
    (counts.books ?? []).map((book) => ({
      ...book,
      workshop: book.workshop === undefined ? name : `${name}/${book.workshop}`
    }))
  );
  return {
    counts: countsInOrder({
      settings: settingsOf(workshops.map(({counts}) => counts.settings)),
      asOf: first.counts.asOf,
      lots: of(({lots}, named) => lots.map((row) => ({...row, lot: named(row.lot)}))),
      orders: of(({orders}, named) => orders.map((row) => ({...row, order: named(row.order)}))),
      spells: of(({spells}, named) => spells.map((row) => ({...row, lot: named(row.lot)}))),
      densities: of(({densities}, named) => densities.map((row) => ({...row, lot: named(row.lot)}))),
      ...(books.length > 0 && {books})
    })
  };
}

/** What keeps the counts of two workshops apart, and how to mend it. */
function apart(one: BookCounts, first: BookCounts): string | undefined {
  if (one.asOf !== first.asOf)
    return `they speak for ${dayText(one.asOf)} and ${dayText(first.asOf)}. Make the counts of all for one day, with --as-of.`;
  const stages = ({settings}: BookCounts) => settings.stages.map(({name}) => name).join(", ");
  if (stages(one) !== stages(first))
    return `their stages are ${stages(one)} and ${stages(first)}. Give the stages the same names in the same order in workshop.json of all.`;
  for (const [species, {wood, windowKgM3: window}] of Object.entries(one.settings.species)) {
    const other = first.settings.species[species];
    if (!other) continue;
    const said = (kind: string, {low, high}: {low: number; high: number}) => `${kind}, ${low} to ${high} kg/m³`;
    const [mine, theirs] = [said(wood, window), said(other.wood, other.windowKgM3)];
    if (mine !== theirs)
      return `${species} is ${mine} here and ${theirs} there. Give it the same wood and window in workshop.json of all, or another name.`;
  }
  return undefined;
}

/** The first one's, with the species, defects and suppliers that only others have. */
function settingsOf(all: readonly Settings[]): Settings {
  const [first] = all as [Settings];
  const backwards = all.toReversed();
  const defects = new Map(all.flatMap((one) => one.defects).map((defect) => [defect.name, defect]));
  for (const defect of first.defects) defects.set(defect.name, defect);
  return {
    ...first,
    species: {...first.species, ...Object.assign({}, ...backwards.map(({species}) => species))},
    suppliers: {...first.suppliers, ...Object.assign({}, ...backwards.map(({suppliers}) => suppliers))},
    defects: [...defects.values()]
  };
}
