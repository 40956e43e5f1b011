import type {Day} from "./day.ts";
import {fields} from "./field.ts";
import {at, excerpt, type Problem, type ProblemCode, type Severity} from "./problem.ts";
import {type Cells, someRows} from "./readRecords.ts";
import {type FileName, files} from "./records.ts";
import type {UnitJump} from "./unitJumps.ts";

/** The cells of every file of a book that was there. */
export type Sources = Partial<Record<FileName, Cells>>;

/** What is said of a fault, beside where it stands; its value is what stands there, unless one is given. */
export interface Said {
  code: ProblemCode;
  wanted: string;
  mend: string;
  severity?: Severity;
  value?: string;
}

/** Names faults of records by file, row and our heading; knows where each cell stands and which rows fell already. */
export class Faults {
  readonly #sources: Sources;
  readonly #problems: Problem[];
  readonly #rows = new Map<FileName, Map<number, readonly string[]>>();

  constructor(sources: Sources, problems: Problem[]) {
    this.#sources = sources;
    this.#problems = problems;
  }

  /** Adds a fault; `refused` unless it says otherwise. Returns true, for "this record has a fault". */
  add(file: FileName, row: number, heading: string, {severity = "refused", ...said}: Said): true {
    const source = this.#sources[file]!;
    const index = source.columns[heading];
    const value = index === undefined ? undefined : excerpt(this.#cells(file, row)[index] ?? "");
    const place =
      index === undefined ? {file: source.file, row, heading} : at(source.file, row, index, source.headings[index]!);
    this.#problems.push({...place, ...(value !== undefined && {value}), severity, ...said});
    return true;
  }

  /** The row in which an identity stands that was refused, if it was. */
  refusedRow(file: FileName, heading: string): (id: string) => number | undefined {
    const source = this.#sources[file];
    const index = source?.columns[heading];
    if (!source || index === undefined) return () => undefined;
    const fallen = new Set(
      this.#problems.filter((one) => one.file === source.file && one.severity === "refused").map(({row}) => row)
    );
    const numbers = new Set([...fallen].filter((row) => row !== undefined));
    const rows = someRows(source, numbers).map(({row, cells}) => [(cells[index] ?? "").trim(), row] as const);
    const byId = new Map(rows);
    return (id) => byId.get(id);
  }

  /** Whether a day lies after today; then that is a fault. */
  future(file: FileName, {row}: {row: number}, day: Day, heading: string, today: Day | undefined): boolean {
    if (today === undefined || day <= today) return false;
    const mend = "Correct the year or the month. If today's date is what is wrong, set this computer's clock.";
    return this.add(file, row, heading, {code: "date-future", wanted: `no later than today, ${today}`, mend});
  }

  /** A size or mass in another unit than the others of its column. */
  jump(file: FileName, row: number, {key, wanted, mend}: UnitJump<string>): true {
    const heading = fields(files[file].schema).find(([one]) => one === key)![1].heading;
    return this.add(file, row, heading, {code: "unit-jump", wanted, mend});
  }

  /** The file as the owner knows it. */
  name(file: FileName): string {
    return this.#sources[file]?.file ?? file;
  }

  #cells(file: FileName, row: number): readonly string[] {
    const source = this.#sources[file]!;
    if (source.some) return source.some(new Set([row]))[0]?.cells ?? [];
    const known = this.#rows.get(file);
    if (known) return known.get(row) ?? [];
    this.#rows.set(file, new Map(source.rows.map((one) => [one.row, one.cells])));
    return this.#cells(file, row);
  }
}
