import {expect, test} from "vitest";
import {parseSettings} from "../../lib/book/settings.ts";

const faults = (json: unknown) =>
  parseSettings(JSON.stringify(json)).problems.map(({heading, value, wanted}) => [heading, value, wanted]);

test('parseSettings("{}") is valid: every setting has its default', () => {
  const {settings, problems} = parseSettings("{}");
  expect(problems).toEqual([]);
  expect(settings?.stages.map(({name, restDays}) => [name, restDays])).toEqual([
    ["square", 60],
    ["rough-round", 30],
    ["second-round", 30],
    ["proud-round", 30],
    ["finished", 0]
  ]);
  expect(settings?.defects.map(({name}) => name)).toContain("warp");
  expect(Object.keys(settings!.species)).toEqual(["ash", "maple"]);
  expect(settings).toMatchObject({season: {startsOn: "06-01"}, money: {currency: "£"}, suppliers: {}});
  expect(settings).toMatchObject({store: {days: 60}, ready: {steadyDays: 7}, rack: {weights: {mass: 1, colour: 0.5}}});
  expect(settings!.bendTest).toBeUndefined();
});

test("parseSettings fills in what is left out beside what is given", () => {
  const {settings} = parseSettings('{"name": "Two Benches", "money": {"shaftPrice": 95}, "accuracy": {"meterPct": 2}}');
  expect(settings).toMatchObject({
    name: "Two Benches",
    money: {shaftPrice: 95, currency: "£"},
    accuracy: {meterPct: 2, scaleG: 1}
  });
});

test("parseSettings passes over a byte order mark", () => {
  expect(parseSettings('\ufeff{"name": "Two Benches"}').settings?.name).toBe("Two Benches");
});

test.each([
  ["a misspelt setting", {stagse: []}, ["the file", "stagse", "a setting that this toolkit knows"]],
  [
    "a misspelt one deeper down",
    {money: {shaftprice: 95}},
    ["money", "shaftprice", "a setting that this toolkit knows"]
  ],
  ["a text for a number", {money: {shaftPrice: "95"}}, ["money.shaftPrice", '"95"', "a number"]],
  ["a price of nothing", {money: {shaftPrice: 0}}, ["money.shaftPrice", "0", "positive"]],
  ["a negative accuracy", {accuracy: {scaleG: -1}}, ["accuracy.scaleG", "-1", "0 or more"]],
  ["one stage only", {stages: [{name: "square"}]}, ["stages", '[{"name":"square"}]', "at least two stages"]],
  [
    "two stages of one name",
    {stages: [{name: "a"}, {name: "a"}]},
    ["stages", '[{"name":"a"},{"name":"a"}]', "named differently each"]
  ],
  [
    "a season on the 31st",
    {season: {startsOn: "01-31"}},
    ["season.startsOn", '"01-31"', "a day of the year like 06-01, up to the 28th"]
  ],
  [
    "a bending test on one support",
    {bendTest: {loadKg: 2, support: "beam", spanMm: 1200}},
    ["bendTest.support", '"beam"', "simple or cantilever"]
  ],
  [
    "a bending test longer than the shaft",
    {bendTest: {loadKg: 2, support: "simple", fromLargeMm: "4 in", spanMm: 1400}},
    ["bendTest.spanMm", "1400", "no more, with fromLargeMm (101.6 mm), than the 1470 mm of a shaft at finished"]
  ],
  ["half a day", {store: {days: 45.5}}, ["store.days", "45.5", "a whole number of days from 1 to 3650"]],
  [
    "days without end",
    {ready: {steadyDays: 1e9}},
    ["ready.steadyDays", "1000000000", "a whole number of days from 1 to 365"]
  ],
  [
    "a chance in per cent",
    {ready: {clearanceFraction: 95}},
    ["ready.clearanceFraction", "95", "a chance between 0.5 and 0.999"]
  ],
  [
    "a window the wrong way round",
    {species: {ash: {wood: "european-ash", windowKgM3: {low: 740, high: 640}}}},
    ["species.ash.windowKgM3", '{"low":740,"high":640}', "low before high"]
  ],
  [
    "an own number with one end of its range",
    {demand: {ash: {shafts: 90, low: 70}}},
    ["demand.ash.low", "70", "given together with high"]
  ],
  [
    "a range and a standard deviation",
    {demand: {ash: {shafts: 90, low: 70, high: 120, sd: 9}}},
    ["demand.ash.sd", "9", "left out where low and high are given"]
  ],
  [
    "a number outside of its range",
    {demand: {ash: {shafts: 60, low: 70, high: 120}}},
    ["demand.ash.low", "70", "such that low, shafts and high rise: shafts is 60, high 120"]
  ],
  [
    "a doubt about no number",
    {demand: {ash: {sd: 9}}},
    ["demand.ash.sd", "9", "given together with shafts, the number it belongs to"]
  ],
  ["all demand lost", {demand: {ash: {lostPct: 100}}}, ["demand.ash.lostPct", "100", "between 0 and 90"]],
  ["half a shaft for certain", {demand: {ash: {bigOrder: 1.5}}}, ["demand.ash.bigOrder", "1.5", "a whole number"]],
  ["demand for a species not worked", {demand: {ahs: {shafts: 9}}}, ["demand", "ahs", "a species named under species"]]
])("parseSettings names %s", (_, json, fault) => expect(faults(json)).toEqual([fault]));

test("parseSettings refuses a wood whose constants are not stored, naming those that are", () => {
  const [fault] = faults({species: {oak: {wood: "red-oak", windowKgM3: {low: 600, high: 700}}}});
  expect(fault?.slice(0, 2)).toEqual(["species.oak.wood", '"red-oak"']);
  expect(fault?.[2]).toMatch(/^one of white-ash, .*european-ash/);
});

test.each(["{", "name: Two Benches", '{"name": "x",,}', '{"a": 1} {"b": 2}', `${"[".repeat(100_000)}`])(
  "parseSettings(%j) is not JSON",
  (text) => {
    const {settings, problems} = parseSettings(text);
    expect(settings).toBeUndefined();
    expect(problems).toMatchObject([
      {
        code: "setting-unreadable",
        severity: "blocking",
        file: "workshop.json",
        wanted: expect.stringContaining("valid JSON"),
        mend: "Correct workshop.json; the README lists the settings and their defaults."
      }
    ]);
  }
);

test.each(["null", "[]", "7", '"text"'])("parseSettings(%j) is no settings, without throwing", (text) => {
  const {settings, problems} = parseSettings(text);
  expect(settings).toBeUndefined();
  expect(problems).toMatchObject([{code: "setting-unreadable", severity: "blocking", heading: "the file"}]);
});

test('parseSettings("") takes every default, as it does for "{}"', () => {
  expect(parseSettings(" \n")).toEqual(parseSettings("{}"));
});

test("parseSettings passes over remarks after // and a comma too many at the end", () => {
  const text = `{
    // our name
    "name": "Two Benches", /* and the rest as it is */
  }`;
  expect(parseSettings(text)).toEqual(parseSettings('{"name": "Two Benches"}'));
});

test("parseSettings says in which line and place the text stops being JSON", () => {
  const [problem] = parseSettings('{\n  "name" "Two Benches"\n}').problems;
  expect(problem?.value).toBe("ColonExpected in line 2, place 10");
});

const window = {low: 640, high: 740};

test.each([
  [{seasn: {}}, "the file", "seasn", "season"],
  [{stages: [{name: "square", restdays: 3}, {name: "finished"}]}, "stages.0", "restdays", "restDays"],
  [{stages: [{name: "square"}, {name: "finished", lenghtMm: 1470}]}, "stages.1", "lenghtMm", "lengthMm"],
  [{defects: [{name: "knot", group: "growth", gruop: "fit"}]}, "defects.0", "gruop", "group"],
  [{species: {ash: {wood: "white-ash", windowKgM3: window, wod: ""}}}, "species.ash", "wod", "wood"],
  [{species: {ash: {wood: "white-ash", windowKgM3: {...window, hihg: 1}}}}, "species.ash.windowKgM3", "hihg", "high"],
  [{season: {startOn: "06-01"}}, "season", "startOn", "startsOn"],
  [{money: {shaftprice: 95}}, "money", "shaftprice", "shaftPrice"],
  [{accuracy: {calliperMM: 0.1}}, "accuracy", "calliperMM", "calliperMm"],
  [{suppliers: {"Quillmoor Sawpit": {availible: 50}}}, "suppliers.Quillmoor Sawpit", "availible", "available"],
  [{suppliers: {constructor: {minimun: 5}}}, "suppliers.constructor", "minimun", "minimum"],
  [{demand: {mapel: {}}}, "demand", "mapel", "maple"],
  [{demand: {ash: {growthPc: 5}}}, "demand.ash", "growthPc", "growthPct"],
  [{reading: {lotts: {decimal: "comma"}}}, "reading", "lotts", "lots"],
  [{reading: {lots: {decimals: "comma"}}}, "reading.lots", "decimals", "decimal"],
  [{reading: {all: {serialFrom: 1904}}}, "reading.all", "serialFrom", "serialsFrom"]
])("parseSettings(%j) suggests the setting that is meant", (json, heading, value, meant) => {
  const {settings, problems} = parseSettings(JSON.stringify(json));
  expect(settings).toBeUndefined();
  expect(problems).toMatchObject([{code: "setting-unreadable", heading, value}]);
  expect(problems[0]!.mend).toBe(
    `Did you mean ${meant}? Correct workshop.json; the README lists the settings and their defaults.`
  );
});

test("parseSettings suggests for each of two slips in one part", () => {
  const {problems} = parseSettings('{"money": {"shaftprice": 95, "curency": "€"}}');
  expect(problems.map(({heading, value, mend}) => [heading, value, mend.split("?")[0]])).toEqual([
    ["money", "shaftprice", "Did you mean shaftPrice"],
    ["money", "curency", "Did you mean currency"]
  ]);
});

test.each([
  [{money: {stages: []}}, "money", "stages"],
  [{reading: {decimal: "comma"}}, "reading", "decimal"],
  [{stages: [{name: "square", wood: "white-ash"}, {name: "finished"}]}, "stages.0", "wood"]
])("parseSettings(%j) suggests no setting that stands in another part", (json, heading, value) => {
  const {problems} = parseSettings(JSON.stringify(json));
  expect(problems).toMatchObject([{heading, value}]);
  expect(problems[0]!.mend).not.toContain("Did you mean");
});

// 41 lb/ft³ · 16.018463 = 656.757 kg/m³; 1 7/16 in = 1.4375 · 25.4 = 36.5125 mm: by hand from the exact inch and pound.
test("parseSettings reads sizes and densities with a unit of their own", () => {
  const {settings, problems} = parseSettings(
    JSON.stringify({
      stages: [{name: "square"}, {name: "finished", largeMm: "1 7/16 in", lengthMm: 1470}],
      species: {ash: {wood: "white-ash", windowKgM3: {low: "41 lb/ft³", high: "0.74 g/cm³"}}}
    })
  );
  expect(problems).toEqual([]);
  expect(settings?.stages[1]?.largeMm).toBeCloseTo(36.5125, 10);
  expect(settings?.species.ash?.windowKgM3.low).toBeCloseTo(656.757, 3);
  expect(settings?.species.ash?.windowKgM3.high).toBeCloseTo(740, 10);
});

test("parseSettings refuses a size in a unit that it cannot have", () => {
  const json = {stages: [{name: "square"}, {name: "finished", largeMm: "29 g"}]};
  expect(parseSettings(JSON.stringify(json)).problems).toMatchObject([{heading: "stages.1.largeMm", value: '"29 g"'}]);
});

test.each([
  [{squares: {headings: {lenght_mm: "Rohlänge"}}}, "reading.squares.headings", "lenght_mm", "Did you mean length_mm?"],
  [{lots: {words: {dryng: {luft: "air"}}}}, "reading.lots.words", "dryng", "Did you mean drying?"],
  [{all: {units: {humidty_pct: "%"}}}, "reading.all.units", "humidty_pct", "Did you mean humidity_pct?"],
  [{lots: {headings: {mass_g: "Gewicht"}}}, "reading.lots.headings", "mass_g", ""],
  [{squares: {units: {mass_g: "stone"}}}, "reading.squares.units.mass_g", "stone", ""]
])("parseSettings refuses %j under reading", (reading, heading, value, mend) => {
  const {settings, problems} = parseSettings(JSON.stringify({reading}));
  expect(settings).toBeUndefined();
  expect(problems).toMatchObject([{code: "setting-unreadable", heading, value, mend: expect.stringContaining(mend)}]);
});
