import {shown} from "../../lib/report/quantity.ts";
import type {ReadyRow} from "../../lib/seasoning/readyToTurn.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {mainPoints} from "../pages/rack.ts";
import {plainLine} from "../plainLine.ts";
import type {RackToday} from "./rackToday.ts";

/** So many characters a line at most, before a long list is broken. */
const widest = 100;

/** The day's list as plain lines for the terminal: the main points, the pieces to turn and to weigh by stage, and who gets which shaft. */
export function rackLines(today: RackToday, read: Pick<BookAsOf, "book" | "asOf" | "problems">): string[] {
  const {ready, ranked, assignment, oversize} = today;
  const tight = new Set([...oversize.values()].filter(({verdict}) => verdict !== "clears").map(({square}) => square));
  const lists = (title: string, rows: readonly ReadyRow[], to: (row: ReadyRow) => string) => {
    const names = [...new Set(rows.map(to))];
    return rows.length === 0
      ? []
      : [
          "",
          title,
          ...names.flatMap((name) =>
            list(
              name,
              rows
                .filter((row) => to(row) === name)
                .map(({square}) => (tight.has(square) ? `${square} (measure first)` : square))
            )
          )
        ];
  };
  const given = assignment.given.map(({order, wantedBy, square, look}) => {
    const fit = ranked.find((one) => one.order.order === order)!.shafts.find((one) => one.square === square);
    const mass = fit?.mass === undefined ? "" : `, ${shown(fit.mass.massG, "g")}`;
    const bend =
      typeof fit?.bend === "object" && fit.bend.modulus.basis === "bent"
        ? `, bend ${shown(fit.bend.deflectionMm, "mm")}`
        : "";
    const what = square === undefined ? "no shaft" : `${square}${look ? " (look first)" : ""}${mass}${bend}`;
    return `  ${order}${wantedBy === undefined ? "" : ` by ${wantedBy}`}: ${what}`;
  });
  return [
    ...mainPoints(today, read),
    ...lists(
      "Turn:",
      ready.filter(({verdict}) => verdict === "ready"),
      ({stage, nextStage}) => `${stage} to ${nextStage}`
    ),
    ...lists(
      "Weigh first:",
      ready.filter(({verdict, weigh}) => verdict !== "ready" && weigh),
      ({stage}) => stage
    ),
    ...(given.length > 0 ? ["", "Shafts for orders:", ...given] : []),
    ""
  ].map(plainLine);
}

/** "  name: A1 A2 A3", over several lines where it is long. */
function list(name: string, squares: readonly string[]): string[] {
  const lines = [`  ${name}:`];
  for (const square of squares) {
    if (lines.at(-1)!.length + 1 + square.length > widest) lines.push("   ");
    lines[lines.length - 1] += ` ${square}`;
  }
  return lines;
}
