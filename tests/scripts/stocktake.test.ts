import {mkdirSync, readFileSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {parse} from "csv-parse/sync";
import {describe, expect, test} from "vitest";
import * as XLSX from "xlsx";
import {histories} from "../../lib/book/histories.ts";
import {readBook} from "../../scripts/io/readBook.ts";
import {texts} from "../book/smallBook.ts";
import {filesOf, folderOf, run} from "./run.ts";

const stages = ["rough-round", "second-round", "proud-round", "finished"];
const shaft = (square: string) => stages.map((stage, i) => `2025-0${3 + i}-01,${square},turned,${stage}`);
const book = texts({
  lots: ["A,2025-01-10,Quillmoor Sawpit,ash,5,10"],
  squares: ["A1", "A2", "A3", "A4", "A5"].map((one) => `${one},A,1500,40,40,1680,12`),
  events: [
    ...shaft("A1"),
    ...shaft("A2"),
    "2025-06-02,A1,allotted,,,,,O1",
    "2025-04-01,A5,discarded,,,,warp",
    "2025-05-02,A3,weighed,,1660",
    "2025-06-01,A3,weighed,,1660"
  ]
});

/** Runs a stocktake of this list in a book of these files; gives what it said, wrote, and whether the book is as it was. */
async function take(list: string, args: readonly string[] = [], files: Record<string, string> = book) {
  const folder = folderOf(files);
  const before = filesOf(folder);
  const count = join(folderOf({"counted.csv": list}), "counted.csv");
  const ran = await run("stocktake", ["--book", folder, "--count", count, ...args]);
  expect(filesOf(folder)).toEqual(before);
  expect(ran.stdout + ran.stderr).not.toMatch(/\bNaN\b|\bundefined\b|\[object |^\s+at .*:\d+/m);
  return {...ran, folder, lines: ran.stdout.split("\n")};
}

describe.concurrent("npm run stocktake", {timeout: 600_000}, () => {
  test("totals first, then a line a finding; the proposed events, completed and appended, are read without a fault", async () => {
    const {code, lines, stderr, written, folder} = await take(
      "\ufeffSTAGE;Square no\r\nsecond-round;a4\r\n;A5\r\n\r\n;Z9\r\n;A4\r\n"
    );
    expect(code).toBe(0);
    expect(lines[0]).toMatch(/^Warning: 3 of 4 pieces missing, more than half\./);
    expect(lines[1]).toBe(
      "Stocktake of 2025-06-02: the book has 4 pieces in stock. Found 0, at another stage 1, missing 3."
    );
    const kinds = lines
      .map((line) => line.split(":")[0])
      .filter((kind) => /^(Missing|Unexpected|At another stage|Twice on the list)$/.test(kind!));
    expect(kinds).toEqual([
      "Missing",
      "Missing",
      "Missing",
      "Unexpected",
      "Unexpected",
      "At another stage",
      "Twice on the list"
    ]);
    expect(stderr).toContain("Wrote 5 proposed events.");
    expect(stderr).toContain("events.csv has no column note: give it that heading first");
    const text = written.get("proposed-events.csv")!;
    const [head, ...rows] = parse(text, {bom: true}) as string[][];
    const at = (heading: string) => head!.indexOf(heading);
    const completed = rows.map((cells) => {
      const [all, event] = [[...cells], cells[at("event")]];
      all[at("date")] = "2025-06-02";
      if (event === "discarded") all[at("defect")] = "knot";
      if (event === "") all[at("event")] = "delivered";
      return all.map((cell) => `"${cell}"`).join(",");
    });
    const file = join(folder, "events.csv");
    const events = readFileSync(file, "utf8")
      .split("\n")
      .filter((line) => line !== "");
    const asIs = rows.map((cells) => cells.map((cell) => `"${cell}"`).join(","));
    const put = (more: string[]) =>
      writeFileSync(
        file,
        `${[`${events[0]},note`, ...events.slice(1).map((line) => `${line},`), ...more].join("\n")}\n`
      );
    put(asIs);
    const refused = readBook(folder);
    expect(new Set(refused.problems.filter(({severity}) => severity === "refused").map(({row}) => row)).size).toBe(5);
    expect(refused.book!.events).toHaveLength(12);
    put(completed);
    expect(readBook(folder).problems.filter(({severity}) => severity !== "note")).toEqual([]);
    expect(readBook(folder).book!.events).toHaveLength(17);
  });

  test("in a file kept newest first the turnings of one day are proposed from the bottom up", async () => {
    const lines = book["events.csv"].trimEnd().split("\n");
    const turned = `${[lines[0], ...lines.slice(1).toReversed()].join("\n")}\n`;
    const {written, folder} = await take("A1\nA2\nA3\nA4,proud-round\n", [], {...book, "events.csv": turned});
    const rows = (parse(written.get("proposed-events.csv")!, {bom: true}) as string[][]).slice(1);
    expect(rows.map((cells) => cells[3])).toEqual(["proud-round", "second-round", "rough-round"]);
    const done = rows.map((cells) => ["2025-06-02", ...cells.slice(1, 8)].join(","));
    writeFileSync(join(folder, "events.csv"), `${turned}${done.join("\n")}\n`);
    const {book: after, problems} = readBook(folder);
    const replayed = histories(after!, "2025-06-02");
    expect([...problems, ...replayed.problems]).toEqual([]);
    expect(replayed.pieces[3]!.stays.at(-1)!.stage).toBe("proud-round");
  });

  test("all found: no event is proposed and no file written", async () => {
    const {code, lines, stderr, written} = await take("A1\nA2\nA3\nA4\n");
    expect([code, [...written.keys()]]).toEqual([0, []]);
    expect(lines[0]).toContain("Found 4, at another stage 0, missing 0.");
    expect(stderr).toContain("No event is proposed.");
  });

  test("--json, --on, --stage and --lot", async () => {
    const {stdout, code} = await take("A3\n", ["--json", "--on", "2025-05-15", "--stage", "Square", "--lot", "A"]);
    const result = JSON.parse(stdout);
    expect(code).toBe(0);
    expect(result).toMatchObject({
      on: "2025-05-15",
      part: {stages: ["square"], lots: ["A"]},
      agreement: {found: 1, of: 2}
    });
    expect(result.missing.map(({square}: {square: string}) => square)).toEqual(["A4"]);
    expect(result.proposed).toHaveLength(1);
  });

  test("--strict ends with code 4 when a row of the list was refused", async () => {
    const list = "square,stage\nA1,\n,finished\nA2,\n";
    expect((await take(list)).code).toBe(0);
    const strict = await take(list, ["--strict"]);
    expect([strict.code, strict.stderr]).toEqual([
      4,
      expect.stringContaining("counted.csv row 3 (A3): square must be filled in")
    ]);
  });

  test("every sheet with numbers in it is read, and those without are named", async () => {
    const sheets = XLSX.utils.book_new();
    for (const [name, cells] of [
      ["Loft", [["A1"], ["A2"]]],
      ["Who", [["counted by", "M"]]],
      [
        "Cellar",
        [
          ["square", "seen at"],
          ["A3", "square"],
          ["A4", ""]
        ]
      ]
    ] as const)
      XLSX.utils.book_append_sheet(sheets, XLSX.utils.aoa_to_sheet(cells.map((row) => [...row])), name);
    const folder = folderOf(book);
    const count = join(folderOf({}), "count.xlsx");
    writeFileSync(count, XLSX.write(sheets, {type: "buffer", bookType: "xlsx"}));
    const {stdout, stderr} = await run("stocktake", ["--book", folder, "--count", count]);
    expect(stdout).toContain("Found 4, at another stage 0, missing 0.");
    expect(stderr).toContain("count.xlsx, sheet Loft: numbers from column 1.");
    expect(stderr).toContain("count.xlsx, sheet Cellar: numbers from “square”. Not read: “seen at”.");
    expect(stderr).toContain("count.xlsx, sheet Who has no number of the book and was passed over.");
    expect(stderr).toContain(
      "Taken as counted on 2025-06-02, the last day in the book: if it was another day, give it"
    );
  });

  test("a missing piece with a row of events.csv that was set aside: that row is named and nothing is proposed", async () => {
    const files = {...book, "events.csv": `${book["events.csv"].trimEnd()}\n2025-05-03,A4,discarded\n`};
    const {stdout, written} = await take("A1\nA2\nA3\n", [], files);
    expect(stdout).toMatch(
      /Missing: A4: .*\. Row \d+ of events\.csv has its number and was set aside: mend it\. Nothing/
    );
    expect(written.has("proposed-events.csv")).toBe(false);
  });

  test("the examples of --help do not lack --count", async () => {
    const {stdout} = await run("stocktake", ["--help"]);
    const examples = stdout.split("\n").filter((line) => line.includes("npx tsx"));
    expect(examples).toHaveLength(2);
    for (const line of examples) expect(line).toContain("--count ");
  });

  test("a number whose row in squares.csv was set aside is told as that", async () => {
    const files = {
      ...book,
      "squares.csv": book["squares.csv"].replace("A3,A,1500,40,40,1680", "A3,A,1500,40,40,heavy")
    };
    const {stdout} = await take("A1\nA2\nA3\nA4\n", [], files);
    expect(stdout).toContain(
      "Unexpected: A3 (row 3): it stands in row 4 of squares.csv, which was set aside. Mend that row."
    );
  });

  test.each<[string, string, string[], string]>([
    ["an empty list", "", [], "counted.csv: must be filled with the numbers of the squares seen"],
    [
      "a list without numbers",
      "height;weight\n1;2\n",
      [],
      "counted.csv row 1: must be a list with a column of square numbers"
    ],
    [
      "a stage that is none",
      "A1\n",
      ["--stage", "polished"],
      "--stage must name what the book has: square, rough-round"
    ],
    ["a lot that is none", "A1\n", ["--lot", "AA"], "--lot must name what the book has: A, got “AA”"],
    ["no day", "A1\n", ["--on", "02.06.2025"], "--on must be a calendar day like 2026-10-31, got “02.06.2025”."],
    ["a day before the first purchase", "A1\n", ["--on", "2025-01-09"], "--on must be on or after the first purchase"],
    ["a day that is still to come", "A1\n", ["--on", "2999-01-01"], "--on must be no later than today"]
  ])("%s ends with code 2, says what would be right, and writes nothing", async (_, list, args, sentence) => {
    const {code, stderr, written} = await take(list, args);
    expect([code, stderr]).toEqual([2, expect.stringContaining(sentence)]);
    expect([...written.keys()]).toEqual([]);
  });

  test("without --count, or with one that is not there or is a folder: code 2", async () => {
    const folder = folderOf(book);
    mkdirSync(join(folder, "lists"));
    const said = async (...args: string[]) => {
      const {code, stderr} = await run("stocktake", ["--book", folder, ...args]);
      return `${code} ${stderr}`;
    };
    expect(await said()).toMatch(/^2 [\s\S]*--count must be given: the list of the square numbers seen/);
    expect(await said("--count", "none.csv")).toMatch(/^2 [\s\S]*--count must be a list that is there, got “none.csv”/);
    expect(await said("--count", join(folder, "lists"))).toMatch(/^2 [\s\S]*--count must be a file, got the folder/);
  });
});

describe.concurrent("npm run labels", {timeout: 600_000}, () => {
  const labels = (...args: string[]) => run("labels", ["--book", folderOf(book), ...args]);

  test("writes a page of the pieces in stock, and tells it", async () => {
    const {code, stdout, stderr, written} = await labels();
    expect([code, [...written.keys()]]).toEqual([0, ["labels.html"]]);
    expect(stdout).toMatch(/labels\.html\n$/);
    expect(stderr).toContain("Made 4 labels on 1 sheet.");
    expect(written.get("labels.html")!.match(/<li class="label"/g)).toHaveLength(4);
  });

  test("the same book gives the same bytes", async () => {
    const [one, other] = await Promise.all([labels(), labels()]);
    expect(one.written).toEqual(other.written);
  });

  test("--squares, --stage, --ready, --weigh, --by-stage and --json", async () => {
    const numbersOf = async (...args: string[]) =>
      JSON.parse((await labels("--json", ...args)).stdout).labels.map(({square}: {square: string}) => square);
    expect(await numbersOf("--squares", "A3,a1", "--squares", "A2")).toEqual(["A3", "A1", "A2"]);
    expect(await numbersOf("--stage", "finished")).toEqual(["A1", "A2"]);
    // Rested and steady by two weighings; A4 has rested too, but nobody weighed it.
    expect(await numbersOf("--ready")).toEqual(["A3"]);
    expect(await numbersOf("--weigh")).toEqual(["A4"]);
    expect(await numbersOf("--squares", "A1,A4", "--by-stage")).toEqual(["A4", "A1"]);
  });

  test.each<[string[], string]>([
    [["--squares", "A5"], "No label for A5: not in stock on 2025-06-02"],
    [["--squares", "A99"], "--squares must name what the book has: A1, A2, A3, A4, A5, got “A99”"],
    [["--skip", "24"], "--skip must be a whole number below 24, the labels of a sheet, got 24."],
    [["--columns", "x"], "--columns must be a whole number from 1 to 8, got NaN."],
    [["--label", "wide"], "A size must be two numbers in mm, across x down, like 70x37, got “wide”."]
  ])("%j ends with code 2 and writes nothing", async (args, sentence) => {
    const {code, stderr, written} = await labels(...args);
    expect([code, stderr, [...written.keys()]]).toEqual([2, expect.stringContaining(sentence), []]);
  });
});
