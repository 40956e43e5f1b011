import {dayNumber, dayText} from "../../lib/book/day.ts";
import type {Row} from "./csv.ts";
import {deflectionReading} from "./feel.ts";
import {squareDryG, turned} from "./masses.ts";
import {moistureCourse} from "./moisture.ts";
import type {Stay} from "./paths.ts";
import type {Piece} from "./pieces.ts";
import {type Random, stream, uniform} from "./random.ts";
import {reading} from "./readings.ts";
import type {Store} from "./store.ts";
import {asOf} from "./truth.ts";
import {habits} from "./truthMeasuring.ts";
import {restDays, stageNames, type TurnedStage} from "./truthStages.ts";
import {workday} from "./workday.ts";

/** The events of one piece up to the last day of the book, in their order; selling it is not among them. */
export function eventRows(piece: Piece, store: Store): Row[] {
  const random = stream(`events ${piece.square}`);
  const rows: Row[] = [];
  const last = dayNumber(asOf);
  const moistureOn = moistureCourse(piece, store);
  let dryG = squareDryG(piece);
  for (const stay of piece.stays) {
    for (const day of weighings(random, stay)) if (day <= last) rows.push(weighed(day));
    if (stay.to > last) break;
    if (stay.left !== "turned") {
      rows.push({...event(stay.to, stay.left), stage: stay.stage, defect: stay.defect ?? ""});
      break;
    }
    const stage = stageNames[stageNames.indexOf(stay.stage) + 1] as TurnedStage;
    const moisturePct = moistureOn(stay.to);
    const fresh = turned(piece, stage, moisturePct);
    dryG = fresh.dryG;
    rows.push({
      ...weighed(stay.to, habits.meterAtTurning),
      event: "turned",
      stage,
      diameter_mm: reading(random, "calliperMm", fresh.largeMm),
      deflection_mm: stage === "finished" ? deflectionReading(piece, fresh, stay.to) : ""
    });
  }
  return rows;

  function weighed(day: number, meterShare: number = habits.meterAtWeighing): Row {
    const moisturePct = moistureOn(day);
    const massG = reading(random, "scaleG", dryG * (1 + moisturePct / 100));
    const meter = random() < meterShare ? reading(random, "meterPct", moisturePct) : "";
    return {...event(day, "weighed"), mass_g: massG, mc_pct: meter};
  }
  function event(day: number, name: string): Row {
    return {date: dayText(day), square: piece.square, event: name};
  }
}

/** The days of a rest on which the piece is put on the scale: late in the rest perhaps, and before the cut mostly. */
function weighings(random: Random, {stage, from, to, left}: Stay): number[] {
  const late = workday(from + Math.round(restDays[stage] * uniform(random, 0.75, 1)));
  const often = from >= dayNumber(habits.secondWeighingFrom);
  const inRest = random() < (often ? habits.weighedInRestAfter : habits.weighedInRestBefore);
  const beforeCut = random() < habits.weighedBeforeTurning;
  return [...(inRest && late < to ? [late] : []), ...(beforeCut && left === "turned" ? [to] : [])];
}
