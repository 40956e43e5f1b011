import {mkdtempSync, readFileSync, symlinkSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {JSDOM} from "jsdom";
import {describe, expect, test} from "vitest";
import {reportNames} from "../../scripts/pages/reportNames.ts";
import {type Lines, smallest, texts} from "../book/smallBook.ts";
import {filesOf, folderOf, type Ran, run} from "./run.ts";

/** A lot with something of everything: a shaft, a discard, a piece on its way. */
const events = [
  "2025-04-01,A1,turned,rough-round,1100,11,,",
  "2025-06-01,A1,turned,second-round,700,,,",
  "2025-06-01,A1,turned,proud-round,450,,,",
  "2025-06-01,A1,turned,finished,310,10,,",
  "2025-05-01,A2,discarded,,,,warp,"
];

/** Runs a command on a book of these files, and holds all it says and writes to be fit for its reader. */
async function on(script: string, files: Record<string, string>, ...args: string[]): Promise<Ran> {
  return suited(await run(script, ["--book", folderOf(files), ...args]));
}

function suited(result: Ran): Ran {
  for (const [name, text] of [["stdout", result.stdout], ["stderr", result.stderr], ...result.written] as const) {
    expect(text, `${name} shows no stack`).not.toMatch(/^\s+at .*[:(]\d+|\bnode:internal|\.ts:\d+/m);
    // A script may speak of them; what is shown may not.
    const seen = text.replace(/<script>.*?<\/script>/gs, "");
    expect(seen, `${name} shows no NaN and the like`).not.toMatch(/\bNaN\b|\bundefined\b|\bInfinity\b|\[object /);
  }
  return result;
}

const monthly = (lines: Lines, ...args: string[]) => on("monthly", texts({events, ...lines}), ...args);
const linesOf = (text: string) => text.split("\n").filter((line) => line !== "");

describe.concurrent("a book that cannot be used ends with code 3 and says why", {timeout: 600_000}, () => {
  test("a file is missing", async () => {
    const {"events.csv": _, ...files} = texts();
    const {code, stderr, written} = await on("monthly", files);
    expect(code).toBe(3);
    expect(stderr).toContain(
      "events.csv: must be in the book's folder, or a sheet of its workbook. Add events.csv, with its headings at least, or a sheet “events” beside lots, squares, orders."
    );
    expect(written.get("faults.txt")).toContain(
      "events.csv: must be in the book's folder, or a sheet of its workbook."
    );
    expect([...written.keys()]).not.toContain("monthly.html");
  });

  test("a column is missing", async () => {
    const files = texts({events});
    const {code, stderr} = await on("monthly", {
      ...files,
      "squares.csv": files["squares.csv"].replace("mass_g", "heft")
    });
    expect(code).toBe(3);
    expect(stderr).toContain("squares.csv row 1: mass_g must be among the headings");
    expect(stderr).toContain("Add a column headed mass_g, or say in workshop.json which of your columns it is.");
  });

  test("lots.csv is empty, or has its headings only", async () => {
    for (const text of ["", texts({lots: []})["lots.csv"]]) {
      const {code, stderr} = await on("monthly", {...texts({events}), "lots.csv": text});
      expect(code).toBe(3);
      expect(stderr).toMatch(/^blocking lots\.csv/m);
    }
  });

  test("every file has its headings only", async () => {
    const {code, stderr} = await on("monthly", texts({lots: [], squares: [], events: [], orders: []}));
    expect(code).toBe(3);
    expect(stderr).toContain("lots.csv: must be filled with at least one sound purchase.");
  });

  test("workshop.json is broken, or has a misspelt setting", async () => {
    const broken = await on("monthly", {...texts({events}), "workshop.json": '{"name": "Two Benches",'});
    expect([broken.code, broken.stderr]).toEqual([3, expect.stringContaining("workshop.json: must be valid JSON")]);
    const misspelt = await on("monthly", {...texts({events}), "workshop.json": '{"stagse": []}'});
    expect(misspelt.code).toBe(3);
    expect(misspelt.stderr).toContain(
      "workshop.json: the file must be a setting that this toolkit knows, got “stagse”."
    );
  });

  test("a wood has no stored constants", async () => {
    const species = {ash: {wood: "oak", windowKgM3: {low: 600, high: 700}}};
    const {code, stderr} = await on("monthly", {...texts({events}), "workshop.json": JSON.stringify({species})});
    expect(code).toBe(3);
    expect(stderr).toMatch(/workshop\.json: species\.ash\.wood must be one of .*white-ash/);
  });
});

describe.concurrent("wrong usage ends with code 2 and says what would be right", {timeout: 600_000}, () => {
  test("the folder does not exist", async () => {
    const {code, stderr} = suited(await run("monthly", ["--book", "/no/such/book"]));
    expect(code).toBe(2);
    expect(stderr).toContain("--book must be a folder or a workbook that exists, got “/no/such/book”.");
  });

  test("--as-of is before the first purchase", async () => {
    const {code, stderr} = await monthly({}, "--as-of", "2025-01-09");
    expect(code).toBe(2);
    expect(stderr).toContain(
      "--as-of must be on or after the first purchase, got “2025-01-09”; the first lot was bought on 2025-01-10."
    );
  });

  test("npm kept the options to itself", async () => {
    const {code, stderr, stdout} = await run("check", ["my-book"], {
      npm_config_book: "true",
      npm_lifecycle_event: "check"
    });
    expect([code, stdout]).toEqual([2, ""]);
    expect(stderr).toBe(
      "error: --book must be an option behind --, or npm keeps it to itself: npm run check -- --book …\n"
    );
  });

  test("--as-of is no day", async () => {
    const {code, stderr} = await monthly({}, "--as-of", "31.10.2025");
    expect([code, stderr]).toEqual([2, "error: --as-of must be a calendar day like 2026-10-31, got “31.10.2025”.\n"]);
  });

  test("an option is misspelt", async () => {
    const {code, stderr} = suited(await run("monthly", ["--bok", "my-book"]));
    expect([code, stderr]).toEqual([2, "error: unknown option '--bok'\n(Did you mean --book?)\n"]);
  });
});

test.concurrent("--help says what the command does and takes, and ends with code 0", {timeout: 600_000}, async () => {
  const {code, stdout, stderr} = suited(await run("monthly", ["--help"]));
  expect([code, stderr]).toEqual([0, ""]);
  for (const option of ["--book", "--as-of", "--out", "--json", "--strict", "--help"]) expect(stdout).toContain(option);
});

describe.concurrent("a row with a fault is set aside, named and written out; the report is made", {
  timeout: 600_000
}, () => {
  test.each<[string, Lines, string, string]>([
    [
      "an unreadable date",
      {events: [...events, "2025-02-31,A1,weighed,,300,,,"]},
      "events.csv",
      "events.csv row 7 (A7): date must be a calendar day like 2026-10-31, got “2025-02-31”."
    ],
    [
      "a negative mass",
      {squares: [...smallest.squares, "A3,A,1500,40,40,-1680,12"]},
      "squares.csv",
      "squares.csv row 4 (F4): mass_g must be between 1 and 100000, got “-1680”."
    ],
    [
      "an unknown stage",
      {events: [...events, "2025-06-02,A1,weighed,polished,300,,,"]},
      "events.csv",
      "events.csv row 7 (D7): stage must be one of square, rough-round"
    ],
    [
      "a discard without its defect",
      {events: [...events.slice(0, 4), "2025-05-01,A2,discarded,,,,,"]},
      "events.csv",
      "events.csv row 6 (G6): defect must be the defect it was discarded for, got “”."
    ],
    [
      "an event for an unknown square",
      {events: [...events, "2025-06-02,A7,weighed,,300,,,"]},
      "events.csv",
      "events.csv row 7 (B7): square must be the number of a square in squares.csv, got “A7”."
    ]
  ])("%s", async (_, lines, file, sentence) => {
    const {code, stderr, stdout, written} = await monthly(lines);
    expect(code).toBe(0);
    expect(stderr).toContain("1 row set aside");
    expect(stdout).toMatch(/monthly\.html\n$/);
    const refused = written.get(`refused-${file}`)!;
    const given = linesOf(texts({events, ...lines})[file as "events.csv"]).at(-1);
    expect(refused).toContain(given);
    expect(refused).toContain(sentence);
    expect(linesOf(refused)).toHaveLength(2);
    expect(textOf(written.get("monthly.html")!)).toContain("1 fault for which a row was set aside");
  });

  test("--strict makes it code 4", async () => {
    const {code, written} = await monthly({events: [...events, "2025-02-31,A1,weighed,,300,,,"]}, "--strict");
    expect(code).toBe(4);
    expect([...written.keys()]).toContain("monthly.html");
  });

  test("--strict makes it code 4 where a mended row has lost its original, and the count says so", async () => {
    const mended =
      "square,lot,length_mm,width_mm,thickness_mm,mass_g,mc_pct,_row,_mark,_problem\nA9,A,1500,40,40,1603,12,9,m0badf00d,\n";
    const {code, stderr, stdout} = await on("check", {...texts({events}), "mended-squares.csv": mended}, "--strict");
    expect(code).toBe(4);
    expect(stderr).toContain("1 row set aside");
    expect(stdout).toMatch(/^refused {2}mended-squares\.csv row 2/);
  });

  test("--strict on a sound book is code 0", async () => {
    const {code, written} = await monthly({}, "--strict");
    expect(code).toBe(0);
    expect([...written.keys()].filter((name) => name.startsWith("refused"))).toEqual([]);
  });
});

test.concurrent("npm run check prints each fault, what became of every row and what each report would leave out, and writes nothing", {
  timeout: 600_000
}, async () => {
  const {code, stdout, written} = await on(
    "check",
    texts({squares: [...smallest.squares, smallest.squares[0]], events: ["2025-01-09,A1,weighed,,1680,,,", ...events]})
  );
  expect(code).toBe(0);
  const [faults = "", rows = "", ...leftOut] = stdout.split("\n\n");
  const [early, twice, ...rest] = linesOf(faults);
  expect(rest).toEqual([expect.stringMatching(/^More may show when these are mended/)]);
  expect(twice).toMatch(/^refused {2}squares\.csv row 4 \(A4\): square must be a number of its own, got “A1”\./);
  expect(early).toMatch(/^refused {2}events\.csv row 2 \(A2\): date must be on or after the day its lot was bought/);
  expect(linesOf(rows)[1]).toBe("squares.csv: 3 rows read = 2 used + 1 set aside + 0 blank or no data");
  expect(leftOut.join()).toContain(
    "Every report would leave out:\n- 1 of 3 rows of squares.csv\n- 1 of 6 rows of events.csv\n"
  );
  expect([...written.keys()]).toEqual([]);
});

test.concurrent("npm run check says so when there is nothing to mend", {timeout: 600_000}, async () => {
  const {stdout} = await on("check", texts({events}));
  expect(stdout).toMatch(/^Nothing to mend: every row was read and used\.\n\n/);
});

test.concurrent("npm run check lists the faults of a book that cannot be used, with code 3, and as JSON", {
  timeout: 600_000
}, async () => {
  const files = {...texts({events}), "squares.csv": 'square,lot\n"A1,A\n'};
  const [plain, json] = [await on("check", files), await on("check", files, "--json")];
  expect([plain.code, json.code]).toEqual([3, 3]);
  expect(plain.stdout).toMatch(/^blocking squares\.csv row 2: must be closed by a second quotation mark/);
  expect(plain.stdout).toContain("would leave out:\n- the whole report: the book cannot be used as it is");
  const {problems, rows, leftOut} = JSON.parse(json.stdout);
  expect(problems[0]).toEqual({
    code: "quote-open",
    severity: "blocking",
    file: "squares.csv",
    row: 2,
    wanted: expect.any(String),
    mend: expect.any(String)
  });
  expect(rows).toContainEqual({name: "lots.csv", file: "lots.csv", read: 1, used: 0, refused: 1, notData: 0});
  expect(leftOut.map(({report}: {report: string}) => report)).toEqual(Object.keys(reportNames));
});

test.concurrent("a day long after the last entry is told, on stderr and on the page; a day soon after it is not", {
  timeout: 600_000
}, async () => {
  const said = "By the book nothing was bought, done or ordered from ";
  const late = await monthly({}, "--as-of", "2027-12-31", "--json");
  expect(late.stderr).toContain(said);
  expect(JSON.parse(late.stdout).lead[0]).toMatch(new RegExp(`^${said}2\\d{3}-\\d\\d-\\d\\d to 2027-12-31 `));
  const soon = await monthly({}, "--json");
  expect(soon.stderr).not.toContain(said);
  expect(JSON.parse(soon.stdout).lead.join()).not.toContain(said);
});

test.concurrent("where much of a file is set aside, the first main point is that", {timeout: 600_000}, async () => {
  const bad = (n: number) => Array<string>(n).fill("2025-02-31,A1,weighed,,300,,,");
  const of = async (lines: Lines) => JSON.parse((await monthly(lines, "--json")).stdout).lead[0];
  expect(await of({events: [...events, ...bad(5)]})).toMatch(/^Much is missing: 5 of 10 rows of events\.csv were set/);
  expect(await of({events: [...events, ...bad(4)]})).not.toContain("Much is missing");
  // The monthly report is not made of orders.
  expect(await of({orders: Array<string>(9).fill("O1,2025-02-31,ash,1")})).not.toContain("Much is missing");
});

test.concurrent("no command writes into the book, even when told to", {timeout: 600_000}, async () => {
  const folder = folderOf(texts({events: [...events, "2025-02-31,A1,weighed,,300,,,"]}));
  const before = filesOf(folder);
  const made = await run("monthly", ["--book", folder]);
  expect([...made.written.keys()]).toContain("refused-events.csv");
  const told = await run("monthly", ["--book", folder], {}, folder);
  expect(told.code).toBe(2);
  expect(told.stderr).toContain("--out must not be the book's own folder");
  expect(filesOf(folder)).toEqual(before);
});

test.concurrent("of all commands only season --keep-advice writes into the book, and only advice.csv", {
  timeout: 600_000
}, async () => {
  const names = ["lots.csv", "squares.csv", "events.csv", "orders.csv", "climate.csv", "workshop.json"];
  const folder = folderOf(Object.fromEntries(names.map((name) => [name, readFileSync(`sample-data/${name}`, "utf8")])));
  const before = filesOf(folder);
  const day = ["--book", folder, "--as-of", "2024-03-31"];
  for (const script of [...Object.keys(reportNames), "report", "check"]) {
    const {code} = suited(await run(script, script === "check" ? day.slice(0, 2) : day));
    expect([script, code]).toEqual([script, 0]);
    expect(filesOf(folder), script).toEqual(before);
  }
  const kept = suited(await run("season", [...day, "--keep-advice"]));
  expect([kept.code, kept.stderr]).toEqual([
    0,
    expect.stringMatching(/^Kept the advice on ash and maple of 2024-03-31 in .*advice\.csv\.$/m)
  ]);
  const after = filesOf(folder);
  const advice = after.get("advice.csv")!;
  expect(linesOf(advice).map((line) => line.split(",").slice(0, 4).join(" "))).toEqual([
    "advised_on species season_from season_to",
    "2024-03-31 ash 2024-06-01 2025-05-31",
    "2024-03-31 maple 2024-06-01 2025-05-31"
  ]);
  after.delete("advice.csv");
  expect(after).toEqual(before);
  const again = suited(await run("season", [...day, "--keep-advice"]));
  expect(again.stderr).toContain("The advice on ash of 2024-03-31 is kept already (row 2): nothing was replaced.");
  expect(filesOf(folder)).toEqual(new Map([...before, ["advice.csv", advice]]));
});

test.concurrent("the book's own folder is known through a link", {timeout: 600_000}, async () => {
  const folder = folderOf(texts({events}));
  const before = filesOf(folder);
  const link = join(mkdtempSync(join(tmpdir(), "link-")), "reports");
  // A junction, where Windows makes no other link without special rights.
  symlinkSync(folder, link, "junction");
  for (const [book, out] of [
    [folder, link],
    [link, folder],
    [link, link]
  ] as const) {
    const {code, stderr} = suited(await run("monthly", ["--book", book], {}, out));
    expect(code).toBe(2);
    expect(stderr).toBe(
      `--out must not be the book's own folder, got “${out}”: nothing is ever written there. Name another folder.\n`
    );
  }
  expect(filesOf(folder)).toEqual(before);
});

test.concurrent("faults.txt goes when the book is sound again, and rows mended where they lay are kept and said", {
  timeout: 600_000
}, async () => {
  const out = join(mkdtempSync(join(tmpdir(), "out-")), "reports");
  const files = texts({events: [...events, "2025-02-31,A1,weighed,,300,,,"]});
  const {"orders.csv": _, ...without} = files;
  const unusable = suited(await run("monthly", ["--book", folderOf(without)], {}, out));
  expect(unusable.code).toBe(3);
  expect([...unusable.written.keys()]).toEqual(["faults.txt", "refused-events.csv"]);
  const mended = unusable.written.get("refused-events.csv")!.replace("2025-02-31", "2025-02-28");
  writeFileSync(join(out, "refused-events.csv"), mended);
  const sound = suited(await run("monthly", ["--book", folderOf(files)], {}, out));
  expect(sound.code).toBe(0);
  expect([...sound.written.keys()]).not.toContain("faults.txt");
  expect(sound.written.get("refused-events-edited.csv")).toBe(mended);
  expect(sound.written.get("refused-events.csv")).toContain("2025-02-31");
  expect(linesOf(sound.stderr)).toContain(
    `Rows set aside before had been edited and are kept in ${join(out, "refused-events-edited.csv")}. To have them read, save that file as mended-events.csv (mended-events-2.csv if there is one) in the book's folder.`
  );
});

test.concurrent("--json prints the bytes of the JSON file, and makes no page", {timeout: 600_000}, async () => {
  const {code, stdout, written} = await monthly({}, "--json");
  expect(code).toBe(0);
  expect(JSON.parse(stdout)).toMatchObject({report: "monthly", format: 1, asOf: "2025-06-01"});
  expect([...written.keys()]).toEqual([]);
  const page = await monthly({});
  expect(page.written.get("monthly.json")).toBe(stdout);
});

test.concurrent("report --json prints every report as its JSON file has it, and makes no page", {
  timeout: 600_000
}, async () => {
  const {code, stdout, written} = await on("report", texts({events}), "--json");
  expect(code).toBe(0);
  expect([...written.keys()]).toEqual([]);
  const pages = await on("report", texts({events}));
  const files = Object.keys(reportNames).map((name) => JSON.parse(pages.written.get(`${name}.json`)!));
  expect(JSON.parse(stdout)).toEqual(files);
});

test.concurrent("a supplier named like a piece of a page is shown as text", {timeout: 600_000}, async () => {
  const supplier = "</script><img src=x onerror=alert(1)>";
  const lots = [`A,2025-01-10,${supplier},ash,2,10`];
  for (const script of ["monthly", "suppliers"]) {
    const {code, written} = await on(script, texts({lots, events}));
    expect(code).toBe(0);
    const page = new JSDOM(written.get(`${script}.html`)!).window.document;
    expect(page.querySelectorAll("[onerror], img[src=x]").length).toBe(0);
    expect(page.body.textContent).toContain(supplier);
  }
});

test.concurrent("a book of one lot without an outcome gives all reports, which say what cannot be said", {
  timeout: 600_000
}, async () => {
  const {code, written} = await on("report", texts({orders: []}));
  expect(code).toBe(0);
  const pages = [...written.keys()].filter((name) => name.endsWith(".html") && !name.startsWith("supplier-"));
  expect(pages).toEqual(["guide", "index", ...Object.keys(reportNames)].map((name) => `${name}.html`).sort());
  expect(textOf(written.get("monthly.html")!)).toContain("Too early to say what becomes of the squares: of");
  for (const name of pages) expect(emptyDrawings(written.get(name)!), name).toEqual([]);
  for (const [name, text] of written) if (name.endsWith(".json")) expect(() => JSON.parse(text), name).not.toThrow();
});

test("emptyDrawings tells axes from data", () => {
  const figure = (marks: string) =>
    `<section class="figure" id="f"><div class="wide"><svg><path d="M0,0L-6,0"></path><text>0</text>${marks}</svg></div></section>`;
  expect(emptyDrawings(figure(""))).toEqual(["f"]);
  expect(emptyDrawings(figure('<path d="M0,0L0,6"></path>'))).toEqual(["f"]);
  expect(emptyDrawings(figure('<circle r="3"></circle>'))).toEqual([]);
  expect(emptyDrawings(figure('<path d="M10,20L30,40L50,60"></path>'))).toEqual([]);
});

function textOf(page: string): string {
  return new JSDOM(page).window.document.body.textContent!.replace(/\s+/g, " ");
}

/** The figures whose drawing has axes and words only. */
function emptyDrawings(page: string): string[] {
  return [...new JSDOM(page).window.document.querySelectorAll("section.figure")]
    .filter((figure) => {
      const svg = figure.querySelector(".wide svg");
      const isTick = (path: Element) => /^M0,0L-?\d+,-?\d+$/.test(path.getAttribute("d") ?? "");
      return svg && !svg.querySelector("circle, rect") && [...svg.querySelectorAll("path")].every(isTick);
    })
    .map(({id}) => id);
}
