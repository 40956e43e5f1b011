import {fold} from "../lib/book/fold.ts";
import type {Histories} from "../lib/book/histories.ts";
import {nearest} from "../lib/book/nearest.ts";
import {excerpt} from "../lib/book/problem.ts";
import type {StockPart} from "../lib/rack/stocktake.ts";
import {UserError} from "./io/writeReport.ts";

/** The values of an option that may be given more than once and may hold several with commas between: `--squares A1,A2 --squares A3`. */
export function listed(value: string, before: readonly string[] = []): string[] {
  const more = value.split(",").flatMap((one) => (one.trim() === "" ? [] : [one.trim()]));
  return [...before, ...more];
}

/**
 * The names that an option gives, in the spelling of the book; none where the option is not given. A name that has a comma in it is found too.
 *
 * @throws UserError that names what the book does not have, with the nearest name
 */
export function named(
  option: string,
  values: readonly string[] | undefined,
  names: readonly string[]
): string[] | undefined {
  if (values === undefined) return undefined;
  if (values.length === 0) throw new UserError(`${option} must name something, got nothing. Leave it out to have all.`);
  const whole = names.find((name) => name.includes(",") && listed(name).join(",") === values.join(","));
  if (whole !== undefined) return [whole];
  const exact = new Set(names);
  const alike = new Map(names.map((name) => [fold(name), name]));
  const find = (value: string) => (exact.has(value) ? value : alike.get(fold(value)));
  const unknown = values.filter((value) => find(value) === undefined);
  if (unknown.length > 0) {
    const each = unknown.slice(0, 8).map((value) => {
      const near = nearest(value, names);
      return `“${excerpt(value)}”${near === undefined ? "" : ` (${excerpt(near)}?)`}`;
    });
    const some = names.length <= 12 ? `: ${names.map(excerpt).join(", ")}` : "";
    const more = unknown.length > 8 ? ` and ${unknown.length - 8} more` : "";
    throw new UserError(
      `${option} must name what the book has${some}, got ${each.join(", ")}${more}. Look for a typing error.`
    );
  }
  return [...new Set(values.map((value) => find(value)!))];
}

/** The part of the stock that `--stage` and `--lot` name, in the spelling of the book; all of it where they are not given. */
export function partOf(
  {stage, lot}: {stage?: string[]; lot?: string[]},
  {settings, lots}: Pick<Histories, "settings" | "lots">
): StockPart {
  return {
    stages: named(
      "--stage",
      stage,
      settings.stages.map(({name}) => name)
    ),
    lots: named(
      "--lot",
      lot,
      lots.map((one) => one.lot)
    )
  };
}

/** A number of an option; NaN where it is none, for the check of its range to say so. */
export function numbered(value: string): number {
  return value.trim() === "" ? Number.NaN : Number(value);
}

/**
 * Two sizes in mm of an option: "63.5x38", "63,5 × 38 mm".
 *
 * @throws UserError when it is no pair of numbers
 */
export function sized(value: string): [across: number, down: number] {
  const parts = /^\s*(\d+(?:[.,]\d+)?)\s*[x×*]\s*(\d+(?:[.,]\d+)?)\s*(?:mm)?\s*$/i.exec(value);
  if (!parts) throw new UserError(`A size must be two numbers in mm, across x down, like 70x37, got “${value}”.`);
  return [Number(parts[1]!.replace(",", ".")), Number(parts[2]!.replace(",", "."))];
}
