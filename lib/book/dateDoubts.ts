import {type Day, dayNumber, isDay} from "./day.ts";
import type {Place} from "./headings.ts";
import {at, type Problem} from "./problem.ts";
import type {Cells} from "./readRecords.ts";

/** A day so many days from every other of its column is worth a look: three years; ours. */
const apart = 3 * 365;

/**
 * Doubts about the days of a file that no single cell shows: a day years from all others of its column, and in a sheet a column
 * in which a spreadsheet has turned some dates into days, by its own country's order, and left others as text.
 *
 * @param records the sound records, each with its row
 */
export function dateDoubts(
  {file, rows}: Cells,
  places: readonly Place[],
  records: readonly ({row: number} & object)[],
  exact = false
): Problem[] {
  return places
    .filter(({field}) => field.kind === "date")
    .flatMap((place) => {
      const days = records.flatMap((record) => {
        const day = (record as Record<string, unknown>)[place.key] as Day | undefined;
        return day === undefined ? [] : [{row: record.row, day}];
      });
      const {index, heading} = place;
      const far = isolated(days).map(({row, day}): Problem => {
        const mend = "Is the year right? If it is, leave it.";
        const wanted = "within three years of another of its column";
        return {...at(file, row, index, heading), code: "date-apart", severity: "doubt", value: day, wanted, mend};
      });
      const cells = rows.map(({row, cells: own}) => ({row, cell: (own[index] ?? "").trim()}));
      const first = yearFirst(cells);
      if (first) far.push(isYearFirst(at(file, first.row, index, heading), first.cell));
      const texts = cells.filter(({cell}) => /^\d{1,2}[/.-]\d{1,2}[/.-]\d{2,4}$/.test(cell));
      if (!exact || texts.length === 0 || !cells.some(({cell}) => isDay(cell))) return far;
      const {row, cell} = texts[0]!;
      const mend =
        "A spreadsheet of another country turns 03/04 into the wrong day and leaves 14/04 as text. Compare the days that it turned with your own notes.";
      const wanted = "kept like the others of its column, which are days and not text";
      return [
        ...far,
        {...at(file, row, index, heading), code: "dates-mixed", severity: "doubt", value: cell, wanted, mend}
      ];
    });
}

/** Three numbers of two digits. */
const short = /^(\d\d)[-/.](\d\d)[-/.](\d\d)$/;

/**
 * The first of dates of two digits each, 25-01-14, that may have the year first: all can be read so, and the first
 * numbers lie closer together than the last, as years do and days do not.
 */
function yearFirst(cells: readonly {row: number; cell: string}[]): {row: number; cell: string} | undefined {
  const filled = cells.filter(({cell}) => cell !== "");
  const parts = filled.map(({cell}) => short.exec(cell)?.slice(1).map(Number) ?? []);
  if (parts.length < 2 || !parts.every(([, month = 13, last = 32]) => month <= 12 && last <= 31)) return undefined;
  const spread = (at: 0 | 2) => {
    const numbers = parts.map((one) => one[at]!).sort((a, b) => a - b);
    return numbers.at(-1)! - numbers[0]!;
  };
  return spread(0) < spread(2) ? filled[0] : undefined;
}

function isYearFirst(place: ReturnType<typeof at>, value: string): Problem {
  const mend = "If the year stands first, write it with four digits, like 2025-01-14.";
  return {
    ...place,
    code: "year-first",
    severity: "doubt",
    value,
    wanted: "sure to have its year last, as it is read",
    mend
  };
}

/** Whether any of some days is years from the next before and after: a quick look, before it is asked which. */
export function isAnyApart(days: Int32Array): boolean {
  if (days.length < 3) return false;
  const inOrder = days.toSorted();
  return inOrder.some((day, index) => {
    const before = inOrder[index - 1] ?? Number.NEGATIVE_INFINITY;
    const after = inOrder[index + 1] ?? Number.POSITIVE_INFINITY;
    return day - before > apart && after - day > apart;
  });
}

/** The days that are years from the next before and after. */
function isolated(days: readonly {row: number; day: Day}[]): {row: number; day: Day}[] {
  if (days.length < 3) return [];
  const inOrder = days.map((one) => ({...one, number: dayNumber(one.day)})).sort((a, b) => a.number - b.number);
  return inOrder.filter(({number}, index) => {
    const before = inOrder[index - 1]?.number ?? Number.NEGATIVE_INFINITY;
    const after = inOrder[index + 1]?.number ?? Number.POSITIVE_INFINITY;
    return number - before > apart && after - number > apart;
  });
}
