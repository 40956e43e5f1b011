import {readFileSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {describe, expect, test} from "vitest";
import {smallest, texts} from "../book/smallBook.ts";
import {folderOf, run} from "./run.ts";

const events = ["2025-04-01,A1,turned,rough-round", "2025-05-01,A2,discarded,,,,warp"];
const book = folderOf(texts({events}));
const sums = join(folderOf({}), "north");

describe("npm run counts", {timeout: 600_000}, () => {
  test("writes counts and sound rows, and a page that --from makes again from the counts alone", async () => {
    const {code, stdout, written} = await run("counts", ["--book", book, "--sound-rows"], {}, sums);
    expect(code).toBe(0);
    expect([...written.keys()]).toEqual([
      "counts.html",
      "counts/counts.json",
      "counts/densities.csv",
      "counts/lots.csv",
      "counts/orders.csv",
      "counts/spells.csv",
      "sound-rows/events.csv",
      "sound-rows/lots.csv",
      "sound-rows/orders.csv",
      "sound-rows/squares.csv"
    ]);
    expect(stdout.trim().split("\n")).toHaveLength(10);
    expect(written.get("sound-rows/events.csv")!.split("\r\n")[2]).toBe("3,2025-05-01,A2,discarded,,,,,,warp,,");
    const again = await run("counts", ["--from", join(sums, "counts")]);
    expect(again.code).toBe(0);
    expect([...again.written.keys()]).toEqual(["counts.html"]);
    expect(again.written.get("counts.html")).toBe(written.get("counts.html"));
  });

  // With --sound-rows every row becomes a record and every piece is replayed; without it squares and events stay columns.
  test.each([
    ["faults of every kind of row", [], 0],
    ["an earlier day", ["--as-of", "2025-04-15"], 0],
    ["a day before the first purchase", ["--as-of", "2024-01-01"], 2],
    ["rows refused, strictly", ["--strict"], 4]
  ])("says and writes the same with and without --sound-rows: %s", async (_, args, code) => {
    const bad = folderOf(
      texts({
        squares: [...smallest.squares, "A2,A,1500,40,40,1600,12", "A3,B,1500,40,40,1600,12", "A4,A,59,40,40,16o0,12"],
        events: [
          ...events,
          "2025-05-02,A2,weighed,,1500",
          "2025-05-03,A9,weighed,,1500",
          "2025-05-04,A1,turned,finished,,,,",
          '2025-05-05,A1,weighed,,"1,000 g"',
          "2025-05-06,A1,delivered"
        ]
      })
    );
    const [columns, rows] = await Promise.all([
      run("counts", ["--book", bad, ...args]),
      run("counts", ["--book", bad, "--sound-rows", ...args])
    ]);
    const untold = (text: string) => text.replaceAll(/\S*book-\S*/g, "");
    expect(columns.code).toBe(code);
    expect(rows.code).toBe(code);
    expect(untold(columns.stderr)).toBe(untold(rows.stderr));
    expect(columns.stderr).toMatch(code === 2 ? /^--as-of must be on or after/ : /\d rows set aside/);
    expect([...columns.written]).toEqual([...rows.written].filter(([path]) => !path.startsWith("sound-rows")));
    if (code !== 2) expect([...columns.written.keys()]).toContain("refused-events.csv");
  });

  test("--json gives the tables on stdout", async () => {
    const {stdout} = await run("counts", ["--from", join(sums, "counts"), "--json"]);
    const {lead, tables} = JSON.parse(stdout) as {lead: string[]; tables: Record<string, unknown>};
    expect(lead[0]).toMatch(/^Too early to say/);
    expect(Object.keys(tables)).toContain("balance-table");
  });

  test("counts with a fault are not used: code 3, each fault with its place", async () => {
    const files = ["lots.csv", "orders.csv", "spells.csv", "densities.csv", "counts.json"];
    const folder = folderOf(
      Object.fromEntries(files.map((file) => [file, readFileSync(join(sums, "counts", file), "utf8")]))
    );
    writeFileSync(
      join(folder, "spells.csv"),
      readFileSync(join(folder, "spells.csv"), "utf8").replace("passed", "sold")
    );
    const {code, stderr, written} = await run("counts", ["--from", folder]);
    expect(code).toBe(3);
    expect(stderr).toMatch(
      /^refused {2}spells\.csv row \d \(E\d\): outcome must be passed, diverted, .*, got “sold”\./
    );
    expect(stderr).toContain("cannot be used as they are: nothing was made of them.");
    expect(written.size).toBe(0);
  });

  test.each([
    [["--from", "nowhere"], "--from must name a folder of counts that exists, got “nowhere”."],
    [["--from", sums, "--book", book], "cannot be used with option '--book <folder>'"],
    [["--from", sums, "--sound-rows"], "cannot be used with option '--sound-rows'"]
  ])("wrong usage, %j: code 2, and why", async (args, why) => {
    const {code, stderr} = await run("counts", args);
    expect(code).toBe(2);
    expect(stderr).toContain(why);
  });
});
