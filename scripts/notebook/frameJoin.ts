import {groupBy as grouped} from "../../lib/book/spells.ts";
import {check} from "../../lib/check.ts";
import {build, checkColumns, type Frame, keyOf, type Name, rowsOf, type Value} from "./frame.ts";

type Row = Readonly<Record<string, Value>>;

/**
 * The rows of `left`, each with the columns of the rows of `right` that hold the same in `on`; "left" keeps rows that find none, their
 * new columns missing, "inner" drops them. In the order of `left`, then of `right`. A missing key finds nothing.
 *
 * Traps of danfo's `merge`, which is not used: it runs keys together (see `keyOf`), takes "1" for 1, joins missing to missing,
 * gathers rows by key, numbers ascending, and renames a column that both have to "x_1".
 *
 * @throws RangeError unless `on` are columns of one type in both, no other column is in both, and no key is repeated in both
 */
export async function join<L, R, K extends Name<L> & Name<R>, H extends "inner" | "left">(
  left: Frame<L>,
  right: Frame<R>,
  on: readonly K[],
  how: H
): Promise<Frame<L & (H extends "inner" ? Omit<R, K> : Partial<Omit<R, K>>)>> {
  check(on.length > 0, "join: on", "one column or more", "none");
  checkColumns(left, on, "join: left");
  checkColumns(right, on, "join: right");
  const [lefts, rights] = [rowsOf(left) as Row[], rowsOf(right) as Row[]];
  for (const name of on) checkType(name, lefts, rights);
  const matches = byKey(rights, on);
  for (const [key, own] of byKey(lefts, on)) {
    const once = own.length === 1 || (matches.get(key)?.length ?? 0) < 2;
    const repeated = on.map((name) => own[0]![name]).join(", ");
    check(once, "join: on", "repeated in one frame at most (group one first, or join on more columns)", repeated);
  }
  const rows = lefts.flatMap((row) => {
    const found = matches.get(keyOf(row, on)) ?? [];
    return found.length === 0 && how === "left" ? [row] : found.map((other) => ({...other, ...row}));
  });
  const added = right.columns.filter((name) => !(on as readonly string[]).includes(name));
  return build([...left.columns, ...added], rows, "join");
}

/** The rows by their key; those with a missing key are left out, as they match nothing. */
function byKey(rows: readonly Row[], on: readonly string[]): Map<string, Row[]> {
  const complete = rows.filter((row) => on.every((name) => row[name] !== undefined));
  return grouped(complete, (row) => keyOf(row, on));
}

function checkType(name: string, lefts: readonly Row[], rights: readonly Row[]): void {
  const [left, right] = [lefts, rights].map((rows) => typeof rows.find((row) => row[name] !== undefined)?.[name]);
  const same = left === right || left === "undefined" || right === "undefined";
  check(same, `join: ${name} on the right`, `a ${left} as on the left (convert one of them)`, right);
}
