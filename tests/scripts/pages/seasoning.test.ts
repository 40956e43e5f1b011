import {readFileSync} from "node:fs";
import {JSDOM} from "jsdom";
import {describe, expect, it} from "vitest";
import {draw} from "../../../scripts/draw.ts";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {seasoningReport} from "../../../scripts/pages/seasoning.ts";
import {hurry} from "../../../scripts/sample/truthStages.ts";
import {texts} from "../../book/smallBook.ts";
import {folderOf, run} from "../run.ts";

const beside = {notebooks: [], keptBefore: () => undefined, draw};

function pageOf(folder: string, asOf?: string) {
  const found = readBook(folder);
  const report = seasoningReport(bookAsOf({...found, book: found.book!}, asOf), beside);
  return {document: new JSDOM(report.html).window.document, lead: report.data.lead, report};
}

const whole = pageOf("sample-data");
const cells = (id: string) =>
  [...whole.document.querySelectorAll(`[aria-labelledby="${id}-caption"] tbody tr`)].map((row) =>
    [...row.children].map((cell) => cell.textContent!)
  );
/** Numbers in a cell of the form "3.4 (2.9 to 4.0)". */
const numbers = (cell: string) => (cell.replaceAll("−", "-").match(/-?[\d.]+/g) ?? []).map(Number);

/** Whether both limits in such a cell lie on one side of 0. */
const clearOf0 = (cell: string) => {
  const [, low, high] = numbers(cell);
  return low! * high! > 0;
};

describe("seasoningReport(sample book)", () => {
  it("answers five questions in their order, each with a sentence", () => {
    expect([...whole.document.querySelectorAll("main > section > h2")].slice(1, 6).map(({id}) => id)).toEqual([
      "moisture",
      "time",
      "lost",
      "hurry",
      "longer-rest"
    ]);
    expect(whole.lead).toHaveLength(6);
    // The days to near have none, as the gap at the beginning is a mean that is not known so well as the pace.
    const others = whole.lead.filter((sentence) => !sentence.includes("the mean piece is within"));
    expect(others.length).toBe(whole.lead.length - 1);
    for (const sentence of others) expect(sentence).toMatch(/95\u00a0% interval/);
  });

  it("finds that hurried pieces warp more: the factor that the sample was made with lies in the interval, and the control is no different", () => {
    const sentence = whole.lead[0]!;
    expect(sentence).toMatch(/^Pieces turned before their least rest was over were thrown out for warp more often:/);
    const [ratio, low, high] = numbers(cells("hurry-inside-lots").find(([defect]) => defect === "warp")![5]!);
    expect(low!).toBeLessThan(hurry.warpFactor);
    expect(high!).toBeGreaterThan(hurry.warpFactor);
    expect(sentence).toContain(`pieces of one lot against each other ${ratio!.toFixed(2)} times as often`);
    // Over all lots and inside lots are not the same pieces: each ratio stands beside its own count.
    const ofAll = cells("after-hurry-data").find(([defect]) => defect === "warp")!;
    const inside = cells("hurry-inside-lots").find(([defect]) => defect === "warp")!;
    expect(sentence).toContain(`, ${ofAll[1]} hurried pieces of all lots (`);
    expect(sentence).toContain(`, ${inside[2]} of them).`);
    expect(whole.document.querySelector("main")!.textContent).toContain("no different beyond chance");
  });

  it("says of a longer rest that the data cannot tell, and what trial would", () => {
    expect(whole.lead[2]).toMatch(/: the data cannot tell whether it pays\.$/);
    const text = whole.document.querySelector("main")!.textContent!;
    expect(text).toMatch(/Rests were not drawn by lot\./);
    // The one rest whose own interval leaves out 0 is named, with what the table has.
    const clear = cells("longer-rest-net-data").filter((row) => row[0] === "Rest longer still" && clearOf0(row[10]!));
    expect(clear).toHaveLength(1);
    const [lost, low, high] = numbers(clear[0]![10]!).map(Math.abs);
    expect(text).toContain(
      `At ${clear[0]![1]} alone, to rest longer still would lose £${lost} a year (net, 95\u00a0% interval −£${low} to −£${high})`
    );
    expect(text).toMatch(/takes some [\d\u202f]+ rests in each heap/);
  });

  it("shows rates whose parts and wholes agree: groups add up to the stage, saved less cost is net", () => {
    const rows = cells("rest-losses-data");
    const stages = cells("rest-losses-stages");
    expect(stages).toHaveLength(4);
    for (const [stage, , , resting] of stages) {
      const groups = rows.filter((row) => row[0] === stage && row[1] !== "all" && row[2] === "all");
      const total = groups.reduce((sum, row) => sum + numbers(row[6]!)[0]!, 0);
      expect(Math.abs(total - numbers(resting!)[0]!)).toBeLessThan(0.21);
    }
    for (const row of cells("longer-rest-net-data")) {
      const [saved, cost, net] = [7, 8, 9].map((k) => numbers(row[k]!)[0]!);
      expect(Math.abs(saved! - cost! - net!)).toBeLessThanOrEqual(1.01);
    }
  });

  it("is the same when made again", () => {
    expect(pageOf("sample-data").report.html).toBe(whole.report.html);
  });
});

it("seasoningReport(a book just begun, or of a few months) says what cannot be said yet, without NaN or undefined", () => {
  const young = pageOf(folderOf(texts({events: []})));
  expect(young.lead.every((sentence) => /cannot be said|yet/.test(sentence))).toBe(true);
  const few = pageOf("sample-data", "2022-06-30");
  expect(few.lead[0]).toMatch(/^The data cannot tell whether hurried pieces are thrown out for warp more often/);
  expect(few.lead[0]).toMatch(/to tell twice as often takes some [\d\u202f]+ hurried pieces, and there are \d+\.$/);
  expect(few.lead[1]).toMatch(/what that would save cannot be said yet/);
  for (const {document} of [young, few])
    expect(document.querySelector("main")!.textContent).not.toMatch(/NaN|undefined|Infinity/);
});

describe("seasoningReport where something is missing", () => {
  const files = (...names: string[]) =>
    Object.fromEntries(names.map((name) => [name, readFileSync(`sample-data/${name}`, "utf8")]));
  const without = pageOf(folderOf(files("lots.csv", "squares.csv", "events.csv", "orders.csv", "workshop.json")));

  it("without the store's air says so, and not that too few pieces were weighed", () => {
    expect(without.lead[4]).toBe(
      "How fast pieces dry cannot be said yet: the store's air is not known: climate.csv has no readings."
    );
  });

  it("with one piece weighed in one rest counts it in the singular and calls no rest the one where most is lost", () => {
    const events = ["2025-04-15,A1,weighed,,1650,11"];
    const {document} = pageOf(folderOf(texts({events})));
    const text = document.querySelector("main")!.textContent!;
    expect(text).toContain("1 piece, 1 lot");
    expect(text).not.toContain("Most water leaves");
    expect(text).not.toContain("most is lost in the");
  });

  it("its command prints the main points of the page", async () => {
    const {stdout, code} = await run("seasoning", ["--book", folderOf(texts())]);
    expect(code).toBe(0);
    for (const sentence of pageOf(folderOf(texts())).lead) expect(stdout).toContain(sentence);
  });
});
