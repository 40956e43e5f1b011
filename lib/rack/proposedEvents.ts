import type {Histories} from "../book/histories.ts";
import {excerpt} from "../book/problem.ts";
import type {AtOtherStage, Missing, Stocktake} from "./stocktake.ts";

/** An event that a stocktake gives reason to write into the book. What the count cannot know is not in it. */
export interface ProposedEvent {
  square: string;
  event?: "turned" | "discarded" | "delivered";
  stage?: string;
  order?: string;
  /** Why it is proposed, and what is to be filled in. */
  note: string;
}

/**
 * The events that would bring the book in line with a stocktake, to be looked over and filled in:
 *
 * - a missing shaft that is allotted: delivered to its order
 * - a missing shaft that is free: an event left blank, as it may have been delivered or discarded
 * - any other missing piece: discarded, without its defect
 * - a piece seen at a later stage: turned to each stage that it passed
 *
 * None has its day, and no discard its defect: the count knows neither, and so the book refuses each until it is filled in. Nothing is proposed for
 * pieces that the book lets go on after the count or on its day, or has a row of that was set aside, or that an unknown number on the list may stand for;
 * nor for numbers not in stock or pieces seen at an earlier stage: no event mends those.
 *
 * Checked: tests/rack/proposedEvents.test.ts
 */
export function proposedEvents(
  {settings}: Pick<Histories, "settings">,
  {on, missing, otherStage}: Stocktake
): ProposedEvent[] {
  const last = settings.stages.at(-1)!.name;
  return [
    ...missing
      .filter(({seenOn, onTheDay, refusedRow, perhaps}) => (seenOn ?? refusedRow ?? perhaps) === undefined && !onTheDay)
      .map((one) => ofMissing(one, on, last)),
    ...otherStage
      .filter(({enteredOn, refusedRow}) => (enteredOn ?? refusedRow) === undefined)
      .flatMap((one) => ofMoved(one, on))
  ];
}

function ofMissing({square, stage, since, allottedTo}: Missing, on: string, last: string): ProposedEvent {
  const why = `Stocktake ${on}: not counted; in the book at ${stage} since ${since}`;
  const strike = "If it is still there, strike this row.";
  if (stage === last && allottedTo !== undefined) {
    const note = `${why}, allotted to ${excerpt(allottedTo)}. Fill in the day it was delivered, or write discarded, with its defect. ${strike}`;
    return {square, event: "delivered", stage, order: allottedTo, note};
  }
  if (stage === last) {
    const note = `${why}, free. Fill in day and event: delivered (with its order, if it had one) or discarded (with its defect). ${strike}`;
    return {square, stage, note};
  }
  const note = `${why}. Fill in day and defect, or write diverted if it went to other use. ${strike}`;
  return {square, event: "discarded", stage, note};
}

function ofMoved({square, passes, seen, stage, since, rows, notes}: AtOtherStage, on: string): ProposedEvent[] {
  const where = `seen at ${seen} (row ${rows.join(", ")} of the list${notes.length > 0 ? `: ${excerpt(notes.join("; "))}` : ""})`;
  const note = `Stocktake ${on}: ${where}; in the book at ${stage} since ${since}. Fill in the day, and the mass after the cut if it was weighed.`;
  return passes.map((reached) => ({square, event: "turned", stage: reached, note}));
}
