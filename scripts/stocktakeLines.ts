import {excerpt} from "../lib/book/problem.ts";
import type {
  AtOtherStage,
  BookPlace,
  CountedPiece,
  Missing,
  Stocktake,
  Twice,
  Unexpected
} from "../lib/rack/stocktake.ts";
import {shown} from "../lib/report/quantity.ts";
import {counted} from "./faultLines.ts";
import {plainLine} from "./plainLine.ts";

/** How the owner's files are called in the lines. */
export interface FileNames {
  events: string;
  squares: string;
  lots: string;
}

/** So many numbers not in stock are named one by one. */
const most = 200;

/**
 * A stocktake in plain lines: totals, then by species and stage, then a line for every finding.
 *
 * @param last the last stage: its pieces are shafts
 */
export function stocktakeLines(result: Stocktake, last: string, files: FileNames): string[] {
  const {on, part, found, missing, otherStage, unexpected, beside, twice, byStage, agreement} = result;
  const limits = [
    part.stages && `at ${part.stages.join(" or ")}`,
    part.lots && `of ${part.lots.length === 1 ? "lot" : "lots"} ${part.lots.map(excerpt).join(" or ")}`
  ].filter((limit) => limit !== undefined);
  const inPart = otherStage.filter((one) => one.inPart).length;
  const outside = otherStage.length - inPart;
  const aside = [
    ...(outside > 0 ? [`${counted(outside, "piece")} seen at another stage`] : []),
    ...(beside.length > 0 ? [`${counted(beside.length, "piece")} beside the part that was counted`] : [])
  ];
  const noted = found.filter(({stageNoted}) => stageNoted).length;
  const widest = Math.max(...byStage.map(({species, stage}) => `${species}, ${stage}`.length), 0);
  const lines = [
    ...(missing.length > agreement.of / 2
      ? [
          `Warning: ${missing.length} of ${counted(agreement.of, "piece")} missing, more than half. Is it the right list and day, and was all of this counted? Else say which part, with --stage or --lot.`
        ]
      : []),
    `Stocktake of ${on}${limits.length > 0 ? `, only pieces ${limits.join(", ")}` : ""}: the book has ${counted(agreement.of, "piece")} in stock. Found ${found.length}, at another stage ${inPart}, missing ${missing.length}.`,
    agreementLine(agreement, noted, unexpected.length),
    ...(aside.length > 0 ? [`Of other parts: ${aside.join(", ")}.`] : []),
    "",
    ...byStage.map(
      (row) =>
        `${`${row.species}, ${row.stage}`.padEnd(widest)}  in the book ${row.book}, found ${row.found}, at another stage ${row.otherStage}, missing ${row.missing}`
    ),
    ...(byStage.length > 0 ? [""] : []),
    ...missing.map((one) => missingLine(one, last, files)),
    ...unexpected.slice(0, most).map((one) => unexpectedLine(one, on, files)),
    ...(unexpected.length > most ? [`Unexpected: ... and ${unexpected.length - most} more.`] : []),
    ...otherStage.map((one) => stageLine(one, files)),
    ...beside.map((one) => `Beside the part: ${excerpt(one.square)}${where(one)}: ${placeText(one)}; not judged.`),
    ...twice.map(twiceLine)
  ];
  return lines.map(plainLine);
}

function agreementLine({found, of}: Stocktake["agreement"], noted: number, unexpected: number): string {
  const beyond = `${counted(unexpected, "number")} on the list that the book does not have in stock`;
  if (of === 0) return `The book has no piece in stock there, so there is no rate of agreement; ${beyond}.`;
  const percent = shown((100 * found) / of, "percent", {bare: true});
  const stages =
    noted < found
      ? `A stage was noted for ${noted} of those found; of the others the list says only that they are there.`
      : "A stage was noted for all of those found.";
  return `Agreement: ${found} of ${of} are there as the book says, ${percent} %, and ${beyond}. ${stages}`;
}

function missingLine(
  {square, seenOn, allottedTo, perhaps = [], onTheDay, refusedRow, ...place}: Missing,
  last: string,
  files: FileNames
): string {
  const line = `Missing: ${excerpt(square)}: ${placeText({...place, ...(allottedTo !== undefined && {allottedTo})})}${perhaps.length > 0 ? `; perhaps ${perhaps.map(excerpt).join(", ")} on the list` : ""}`;
  if (seenOn !== undefined)
    return `${line}. The book has more of it on ${seenOn}, after the count: overlooked? Nothing is proposed.`;
  if (refusedRow !== undefined)
    return `${line}. Row ${refusedRow} of ${files.events} has its number and was set aside: mend it. Nothing is proposed.`;
  if (onTheDay)
    return `${line}. The book has something of it on the day of the count: before or after it? Nothing is proposed.`;
  if (perhaps.length > 0) return `${line}. Correct the list. Nothing is proposed.`;
  if (allottedTo !== undefined && place.stage === last) return `${line}. Proposed: delivered to that order.`;
  if (place.stage === last)
    return `${line}, free. It may have been delivered without a word, discarded, or overlooked. Proposed: a row without its event.`;
  return `${line}. It may have been discarded, put to other use, or overlooked. Proposed: discarded, its defect to be filled in.`;
}

function unexpectedLine(one: Unexpected, on: string, files: FileNames): string {
  const line = `Unexpected: ${excerpt(one.square)}${where(one)}`;
  switch (one.why) {
    case "unknown": {
      const meant =
        one.near === undefined
          ? ""
          : ` Did you mean ${excerpt(one.near)}${one.nearMissing ? ", which is missing" : ""}?`;
      return `${line}: the book has no such number.${meant} Correct the number, or enter the square in ${files.squares}.`;
    }
    case "set aside":
      return `${line}: it stands in row ${one.squareRow} of ${files.squares}, which was set aside. Mend that row.`;
    case "bought later":
      return `${line}: its lot ${excerpt(one.lot)} was bought on ${one.day}, after the count. Look at the day in ${files.lots}, or correct the number.`;
    default: {
      const at = one.eventRow === undefined ? files.events : `row ${one.eventRow} of ${files.events}`;
      if (one.day === on)
        return `${line}: by the book ${one.why} on ${one.day}, on the day of the count: before or after it? If after, all is well; else look at ${at}.`;
      return `${line}: by the book ${one.why} on ${one.day}. Look at ${at}: if it is there, take that row out; else correct the number.`;
    }
  }
}

function stageLine(one: AtOtherStage, files: FileNames): string {
  const line = `At another stage: ${excerpt(one.square)}${where(one)}: seen at ${one.seen}; ${placeText(one)}`;
  if (one.enteredOn !== undefined)
    return `${line}. The book has it turned on ${one.enteredOn}, after the count: look at that day in ${files.events}. Nothing is proposed.`;
  if (one.refusedRow !== undefined)
    return `${line}. Row ${one.refusedRow} of ${files.events} has its number and was set aside: mend it. Nothing is proposed.`;
  if (one.onTheDay)
    return `${line}. The book has it turned on the day of the count: before or after it? If after, all is well. Nothing is proposed.`;
  if (one.passes.length > 0) return `${line}. Proposed: turned to ${one.passes.join(" and ")}.`;
  const rows =
    one.eventRows.length === 0 ? "" : ` ${one.eventRows.length === 1 ? "row" : "rows"} ${one.eventRows.join(", ")} of`;
  return `${line}. No event can take a turning back: look at${rows} ${files.events}, or at the piece again.`;
}

function twiceLine({square, rows, stages}: Twice): string {
  const differ = stages.length > 0 ? ` They give different stages (${stages.join(", ")}): none was taken.` : "";
  return `Twice on the list: ${excerpt(square)} in rows ${rows.join(", ")}; it counts once.${differ}`;
}

function where({rows, notes}: CountedPiece): string {
  const noted = notes.length > 0 ? `, “${excerpt(notes.join("; "))}”` : "";
  return ` (row ${rows.join(", ")}${noted})`;
}

function placeText({species, stage, since, allottedTo}: Omit<BookPlace, "lot">): string {
  const order = allottedTo === undefined ? "" : `, allotted to ${excerpt(allottedTo)}`;
  return `the book has it as ${species} at ${stage} since ${since}${order}`;
}
