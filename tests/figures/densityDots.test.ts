import {JSDOM} from "jsdom";
import {expect, test} from "vitest";
import {densityBySupplier} from "../../lib/density/densityBySupplier.ts";
import {densityDots, slug} from "../../lib/figures/densityDots.ts";
import {now} from "../recovery/sample.ts";
import {expectSound} from "./sound.ts";

test.each(["ash", "maple"])("densityDots(sample book, %s) is sound; its table has every supplier", (species) => {
  const rows = densityBySupplier(now);
  const window = now.settings.species[species]!.windowKgM3;
  const figure = densityDots(rows, now.pieces, {species, window, period: "all years"});
  expectSound(figure);
  const own = rows.filter((row) => row.species === species);
  expect(figure.table.rows).toEqual(own);
});

const window = {low: 640, high: 740};
const options = {species: "ash", window, period: "all years"};
/** Lots of one supplier, five squares each evenly about its mean, every third lot tighter and every third wider. */
const pieces = (supplier: string, spread: number, means: readonly number[]) =>
  means.flatMap((mean, lot) =>
    [-2, -1, 0, 1, 2].map((step) => ({
      ...now.pieces[0]!,
      species: "ash",
      supplier,
      lot: `${supplier}-${lot}`,
      densityAt12KgM3: mean + spread * (0.8 + 0.2 * (lot % 3)) * step
    }))
  );
const drawn = (some: typeof now.pieces) => densityDots(densityBySupplier({...now, pieces: some}), some, options);
const level = [700, 702, 699, 701, 698, 700];

test.each([
  [
    "spread far apart",
    [
      ["Tight", 1],
      ["Middling", 8],
      ["Wide", 40]
    ],
    "Tight has the tightest ash, Wide the widest"
  ],
  [
    "one apart",
    [
      ["Tight", 1],
      ["Wide", 30],
      ["As wide", 30.5]
    ],
    "Tight has the tightest ash"
  ],
  [
    "the other apart",
    [
      ["Tight", 10],
      ["As tight", 10.2],
      ["Wide", 60]
    ],
    "Wide has the widest ash"
  ],
  [
    "alike",
    [
      ["One", 20],
      ["Other", 20.5]
    ],
    "The data cannot tell whose ash is tightest"
  ],
  ["alone", [["Only Yard", 20]], "Ash of Only Yard only"]
] as const)("densityDots of suppliers %s says what can be told beyond chance", (_, spreads, title) => {
  const figure = drawn(spreads.flatMap(([supplier, spread]) => pieces(supplier, spread, level)));
  expectSound(figure);
  expect(figure.title).toBe(title);
});

test("densityDots cannot tell the spreads of suppliers of few lots, however far apart", () => {
  const figure = drawn([...pieces("Tight", 1, [700, 701]), ...pieces("Wide", 40, [700, 701])]);
  expect(figure.title).toBe("The data cannot tell whose ash is tightest");
});

test("densityDots names the extremes for who cannot see it, by hand", () => {
  const {alt} = drawn([
    ...pieces(
      "Light",
      10,
      level.map((mean) => mean - 60)
    ),
    ...pieces("Heavy", 1, level)
  ]);
  expect(alt).toContain("Dots for 60 squares of 2 suppliers");
  expect(alt).toContain("between 615 and 704\u00a0kg/m³");
  expect(alt).toMatch(/narrowest at Heavy .*widest at Light/);
  expect(alt).toMatch(/lightest at Light \(640\u00a0kg\/m³\), heaviest at Heavy \(700\u00a0kg\/m³\)/);
});

test("densityDots says squares and lots of each supplier, and draws the window once", () => {
  const {wide, narrow} = expectSound(drawn([...pieces("Tight", 1, level), ...pieces("Wide", 40, [700])]));
  const {document} = new JSDOM(wide).window;
  const texts = [...document.querySelectorAll("text")].map(({textContent}) => textContent!);
  expect(texts).toContain("30 squares6 lots");
  expect(texts).toContain("5 squares1 lot");
  expect(narrow).toContain("Tight, 30");
  for (const drawing of [wide, narrow]) expect(drawing.match(/<rect/g)).toHaveLength(1);
});

test("densityDots and long or hostile names: drawn cut, kept whole in the table", () => {
  const names = ["</script><img src=x>", "Thornbeck and Sons, sawn goods, lower yard ".repeat(3).trim()];
  const figure = drawn(names.flatMap((name, i) => pieces(name, 1 + 30 * i, level)));
  for (const drawing of Object.values(expectSound(figure))) {
    expect(drawing).not.toContain("<img");
    expect(drawing).toContain("…");
  }
  expect(figure.table.rows.map(({supplier}) => supplier)).toEqual(names);
});

test("densityDots of no squares does not crash", () => {
  expectSound(densityDots([], [], {species: "ash", window: {low: 640, high: 740}, period: "no time"}));
});

test("slug(name) is fit for an anchor, and names that differ stay different", () => {
  expect(slug("sugar-maple")).toBe("sugar-maple");
  const names = ["Sugar Maple", "sugar maple", "ash (brown)", "ash brown", "érable", "клён", "дуб", "–"];
  const slugs = names.map(slug);
  for (const one of slugs) expect(one).toMatch(/^[a-z0-9][a-z0-9-]*$/);
  expect(new Set(slugs).size).toBe(names.length);
});
