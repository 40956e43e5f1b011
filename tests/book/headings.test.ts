import {describe, expect, test} from "vitest";
import {type HeadingHabits, headingTest, readHeadings} from "../../lib/book/headings.ts";
import {problemSentence} from "../../lib/book/problem.ts";
import {type FileName, files} from "../../lib/book/records.ts";
import {brief, headings as plainHeadings, recordsOf} from "./smallBook.ts";

/** The headings of a file whose rows are given as cells, the first in row 1. */
function headingsOf(file: FileName, rows: readonly (readonly string[])[], habits: HeadingHabits = {}) {
  const grid = {file, rows: rows.map((cells, index) => ({row: index + 1, cells: [...cells]})), problems: []};
  return readHeadings(grid, files[file].schema, habits);
}

/** The column, counted from 0, and the unit of each field found. */
function placed(file: FileName, headings: readonly string[], habits: HeadingHabits = {}) {
  const {places, problems} = headingsOf(file, [headings], habits);
  return {
    at: Object.fromEntries(places.map(({key, index}) => [key, index])),
    units: Object.fromEntries(places.flatMap(({key, unit}) => (unit ? [[key, unit.name]] : []))),
    problems
  };
}

/** The headings of squares.csv with another one for the mass. */
const withMass = (mass: string) => ["square", "lot", "length_mm", "width_mm", "thickness_mm", "mc_pct", mass];
const massAt = 6;

describe("a heading is found", () => {
  test.each([
    "bought_on",
    "Bought On",
    " BOUGHT-ON ",
    "bought – on",
    "bought\u00a0on",
    "Bought_on:",
    "Date bought",
    "purchase date",
    "PURCHASED",
    "Date"
  ])("as %j", (heading) => {
    const {at, problems} = placed("lots.csv", ["lot", heading, "supplier", "species", "squares_bought", "price_each"]);
    expect(at.boughtOn).toBe(1);
    expect(problems).toEqual([]);
  });

  test.each([
    ["mass_g", "g"],
    ["Mass (g)", "g"],
    ["MASS(G)", "g"],
    ["Mass [kg]", "kg"],
    ["Weight (oz)", "oz"],
    ["Weight (oz.)", "oz"],
    ["weight oz", "oz"],
    ["Weight, oz", "oz"],
    ["weight_lbs", "lb"],
    ["Weight - oz", "oz"],
    ["weight-oz", "oz"],
    ["Weight/g", "g"],
    ["Weight: g", "g"],
    ["Weight in ounces", "oz"],
    ["Weight (in ounces)", "oz"],
    ["Weight\n(oz)", "oz"]
  ])("as %j, which says the unit %s", (heading, unit) => {
    const {at, units, problems} = placed("squares.csv", withMass(heading));
    expect(at.massG).toBe(massAt);
    expect(units.massG).toBe(unit);
    expect(problems).toEqual([]);
  });

  test.each([
    ['Length (")', "in"],
    ["Length in", "in"],
    ["Length in mm", "mm"],
    ["Len (ft)", "ft"]
  ])("of a length as %j, in %s", (heading, unit) => {
    const headings = ["square", "lot", heading, "width_mm", "thickness_mm", "mass_g", "mc_pct"];
    const {units, problems} = placed("squares.csv", headings);
    expect(units.lengthMm).toBe(unit);
    expect(problems).toEqual([]);
  });

  test.each(["mc_pct", "MC %", "MC%", "mc (%)", "Moisture content (%)", "Moisture pct"])(
    "of moisture as %j",
    (heading) => {
      const headings = ["square", "lot", "length_mm", "width_mm", "thickness_mm", "mass_g", heading];
      const {at, units, problems} = placed("squares.csv", headings);
      expect(at.moisturePct).toBe(6);
      expect(units.moisturePct).toBe("%");
      expect(problems).toEqual([]);
    }
  );

  test("of density as “Density lb/ft³”, the unit of which holds a dash itself", () => {
    const {units, problems} = placed("squares.csv", [...withMass("mass_g"), "Density lb/ft³"]);
    expect(units.densityKgM3).toBe("lb/ft³");
    expect(problems).toEqual([]);
  });

  test("of temperature as “Temp (°F)”, and its cells are turned into °C: 32 °F is 0 °C, 212 °F would be boiling, 68 °F is 20 °C", () => {
    const text = "Date,Temp (°F),RH (%)\n2025-01-01,32,55\n2025-01-02,68,55";
    expect(recordsOf(text, "climate.csv").records.map(({temperatureC}) => temperatureC)).toEqual([0, 20]);
  });

  test("of a price with its currency in brackets, without a unit and without a doubt", () => {
    const headings = ["lot", "bought_on", "supplier", "species", "squares_bought", "Price each (£)"];
    const {at, units, problems} = placed("lots.csv", headings);
    expect(at.priceEach).toBe(5);
    expect(units).toEqual({});
    expect(problems).toEqual([]);
  });

  test("in any order, with blank columns between", () => {
    const {at, problems} = placed("climate.csv", ["humidity_pct", "", "date", "", "temperature_c"]);
    expect(at).toEqual({humidityPct: 0, date: 2, temperatureC: 4});
    expect(problems).toEqual([]);
  });
});

describe("units", () => {
  test("where a heading states none, ours is taken and said so", () => {
    const {units, problems} = placed("squares.csv", withMass("Weight"));
    expect(units.massG).toBe("g");
    expect(problems).toMatchObject([{code: "unit-assumed", severity: "doubt", row: 1, column: "G", cell: "G1"}]);
    expect(problemSentence(problems[0]!)).toBe(
      "squares.csv row 1 (G1): Weight must be followed by its unit; it is read as g. Write the unit into the heading, like mass_g or “weight (oz)”, or into workshop.json."
    );
  });

  test("the owner may say it in workshop.json instead", () => {
    const {units, problems} = placed("squares.csv", withMass("Weight"), {units: {mass_g: "oz"}});
    expect(units.massG).toBe("oz");
    expect(problems).toEqual([]);
  });

  test("what the heading states comes before what workshop.json says of it", () => {
    expect(placed("squares.csv", withMass("Weight (g)"), {units: {mass_g: "oz"}}).units.massG).toBe("g");
    expect(placed("squares.csv", withMass("mass_g"), {units: {mass_g: "oz"}}).units.massG).toBe("g");
  });

  test("a unit of a wrong dimension blocks where the column must be read, and workshop.json can put it right", () => {
    const {at, problems} = placed("squares.csv", withMass("Weight (mm)"));
    expect(at).not.toHaveProperty("massG");
    expect(problems.map(brief)).toEqual(["heading-unit squares.csv G1"]);
    expect(problems[0]).toMatchObject({severity: "blocking", value: "mm"});
    expect(problemSentence(problems[0]!)).toBe(
      "squares.csv row 1 (G1): Weight (mm) must be in a unit that mass_g can have: g, oz, lb, kg, got “mm”. Correct the unit in the heading, or say it in workshop.json."
    );
    const said = placed("squares.csv", withMass("Weight (mm)"), {units: {mass_g: "oz"}});
    expect(said.units.massG).toBe("oz");
    expect(said.problems).toEqual([]);
  });

  test("a unit that is none blocks too, also one of workshop.json", () => {
    expect(placed("squares.csv", withMass("Weight (stones)")).problems).toMatchObject([
      {code: "heading-unit", severity: "blocking", value: "stones"}
    ]);
    expect(placed("squares.csv", withMass("Weight"), {units: {mass_g: "stones"}}).problems).toMatchObject([
      {code: "heading-unit", severity: "blocking", value: "stones"}
    ]);
  });

  test("in a column that may be missing it is a doubt, and the column is not read", () => {
    const events = ["date", "square", "event", "Dia (kg)"];
    const {at, problems} = placed("events.csv", events);
    expect(at).toEqual({date: 0, square: 1, event: 2});
    expect(problems).toMatchObject([{code: "heading-unit", severity: "doubt", cell: "D1", value: "kg"}]);
    expect(problems[0]!.mend).toContain("Until then the column is not read.");
  });

  test("our own heading with another unit behind it contradicts itself; with the same it does not", () => {
    const {at, problems} = placed("squares.csv", withMass("mass_g (oz)"));
    expect(at).not.toHaveProperty("massG");
    expect(problems).toMatchObject([
      {
        code: "heading-unit",
        severity: "blocking",
        cell: "G1",
        value: "oz",
        wanted: "in one unit, not in g and oz",
        mend: "Correct the heading, to mass_g or “mass (oz)”."
      }
    ]);
    expect(placed("squares.csv", withMass("mass_g (grams)")).problems).toEqual([]);
  });
});

describe("two headings for one column", () => {
  test("ours comes before another name, and the other is named as not read", () => {
    for (const headings of [
      [...withMass("mass_g"), "Weight (oz)"],
      [...withMass("Weight (oz)"), "mass_g"]
    ]) {
      const {at, units, problems} = placed("squares.csv", headings);
      expect(at.massG).toBe(headings.indexOf("mass_g"));
      expect(units.massG).toBe("g");
      expect(problems).toMatchObject([{code: "heading-unknown", severity: "doubt", heading: "Weight (oz)"}]);
    }
  });

  test("the owner's own comes before ours", () => {
    const {at, problems} = placed("squares.csv", [...withMass("mass_g"), "Gewicht (oz)"], {
      headings: {mass_g: "Gewicht (oz)"}
    });
    expect(at.massG).toBe(7);
    expect(problems).toMatchObject([{code: "heading-unknown", heading: "mass_g"}]);
  });

  test.each([
    ["the same heading", "mass_g", "Mass G"],
    ["two other names", "Weight (g)", "weight_oz"]
  ])("%s twice blocks, and both columns are named", (_, first, second) => {
    const {problems} = placed("squares.csv", [...withMass(first), second]);
    expect(problems).toMatchObject([{code: "heading-twice", severity: "blocking", cell: "H1", heading: second}]);
    expect(problems[0]!.value).toBe(`${first} in column G and ${second} in column H`);
  });

  test("the owner's own heading twice blocks too: which is meant cannot be told", () => {
    const {problems} = placed("squares.csv", [...withMass("Gewicht (g)"), "gewicht (g)"], {
      headings: {mass_g: "Gewicht (g)"}
    });
    expect(problems).toMatchObject([{code: "heading-twice", severity: "blocking", cell: "H1"}]);
  });

  test("a day and a due day are two columns, not one twice", () => {
    const {at, problems} = placed("orders.csv", ["order", "date", "due date", "species", "quantity"]);
    expect(at).toEqual({order: 0, orderedOn: 1, wantedBy: 2, species: 3, quantity: 4});
    expect(problems).toEqual([]);
  });
});

describe("the owner's own headings", () => {
  const headings = {
    lot: "Einkauf",
    bought_on: "Gekauft am",
    supplier: "Händler",
    species: "Holz",
    squares_bought: "Stück",
    price_each: "Stückpreis (€)"
  };

  test("are found whatever their case, accents and spaces", () => {
    const {at, problems} = placed(
      "lots.csv",
      ["EINKAUF", "gekauft_am", "Handler", "Holz", "stuck", "Stückpreis  (€)"],
      {headings}
    );
    expect(at).toEqual({lot: 0, boughtOn: 1, supplier: 2, species: 3, squaresBought: 4, priceEach: 5});
    expect(problems).toEqual([]);
  });

  test.each(["Rohgewicht (oz)", "Rohgewicht oz", "Rohgewicht/oz"])("state their unit like ours: %j", (heading) => {
    const {units, problems} = placed("squares.csv", withMass(heading), {headings: {mass_g: heading}});
    expect(units.massG).toBe("oz");
    expect(problems).toEqual([]);
  });

  test("without a unit are in doubt, unless workshop.json has the unit as well", () => {
    const own = {headings: {mass_g: "Rohgewicht"}};
    expect(placed("squares.csv", withMass("Rohgewicht"), own).problems).toMatchObject([{code: "unit-assumed"}]);
    expect(placed("squares.csv", withMass("Rohgewicht"), {...own, units: {mass_g: "kg"}})).toMatchObject({
      units: {massG: "kg"},
      problems: []
    });
  });

  test("that are not in the file block, and name what workshop.json says", () => {
    const {problems} = placed("squares.csv", withMass("mass_g"), {headings: {mass_g: "Gewicht"}});
    expect(problems.find(({code}) => code === "heading-missing")).toMatchObject({
      severity: "blocking",
      heading: "mass_g",
      mend: "workshop.json calls it “Gewicht”, and no heading is that. Correct one of the two."
    });
  });
});

describe("the row of the headings", () => {
  const climate = ["date", "temperature_c", "humidity_pct"];

  test("is the one with most known headings: titles, a day and blank rows may stand above", () => {
    const rows = [["Store, air"], ["", ""], ["Date", "1 March 2025"], climate, ["2025-01-01", "16", "55"]];
    const {row, headings, problems} = headingsOf("climate.csv", rows);
    expect(row).toBe(4);
    expect(headings).toEqual(climate);
    expect(problems).toEqual([]);
  });

  test("is the first of two alike", () => {
    expect(headingsOf("climate.csv", [climate, ["2025-01-01", "16", "55"], climate]).row).toBe(1);
  });

  test("is looked for in 20 rows that are not blank, and no further", () => {
    const titles = (count: number) => Array.from({length: count}, (_, index) => [`title ${index}`]);
    expect(headingsOf("climate.csv", [...titles(19), [""], [""], climate]).row).toBe(22);
    expect(headingsOf("climate.csv", [...titles(20), climate]).row).toBe(1);
  });

  test("is the first that is not blank where no heading is known, and each one missing is named there", () => {
    const {row, problems} = headingsOf("climate.csv", [[""], ["16", "55"]]);
    expect(row).toBe(2);
    expect(problems.filter(({code}) => code === "heading-missing")).toMatchObject([
      {heading: "date", row: 2, value: "16, 55"},
      {heading: "temperature_c"},
      {heading: "humidity_pct"}
    ]);
  });

  test.each([
    ["no row", []],
    ["blank rows only", [["", ""], [" "]]]
  ])("with %s there is one fault, not one for each column", (_, rows) => {
    const {row, places, problems} = headingsOf("climate.csv", rows);
    expect(row).toBe(0);
    expect(places).toEqual([]);
    expect(problems).toMatchObject([{code: "file-empty", severity: "blocking", file: "climate.csv"}]);
    expect(problems[0]!.mend).toContain("date, temperature_c, humidity_pct");
  });
});

describe("a heading that is not known", () => {
  test("is a doubt and names the column it may have been meant for, if that is not there", () => {
    const {problems} = placed("lots.csv", [
      "lot",
      "bought_on",
      "supplier",
      "species",
      "squares_bought",
      "price_each",
      "cariage"
    ]);
    expect(problems.map(brief)).toEqual(["heading-unknown lots.csv G1"]);
    expect(problems[0]).toMatchObject({severity: "doubt", heading: "cariage"});
    expect(problems[0]!.mend).toBe("It is left as it is and not read. Did you mean carriage?");
  });

  test("near no column it is only left", () => {
    const {problems} = placed("climate.csv", ["date", "temperature_c", "humidity_pct", "window"]);
    expect(problems.map(({mend}) => mend)).toEqual([
      "It is left as it is and not read. Correct the heading if it was meant to be read."
    ]);
  });

  test("is no suggestion for a column that is found already", () => {
    const {problems} = placed("climate.csv", ["date", "temperature_c", "humidity_pct", "dates"]);
    expect(problems[0]!.mend).not.toContain("Did you mean");
  });

  test("that stands where one is missing is suggested there", () => {
    const {problems} = placed("squares.csv", withMass("mas_g"));
    expect(problems[0]).toMatchObject({
      code: "heading-missing",
      severity: "blocking",
      heading: "mass_g",
      mend: "Is it “mas_g”? Then correct that heading, or say so in workshop.json."
    });
  });

  test.each(["constructor", "__proto__", "toString", "x".repeat(5000), "(", ")(", "((((", "[mm)", "mm", "%"])(
    "however odd, like %j, is named and does no harm",
    (heading) => {
      const {at, problems} = placed("climate.csv", ["date", "temperature_c", "humidity_pct", heading]);
      expect(at).toEqual({date: 0, temperatureC: 1, humidityPct: 2});
      expect(problems.map(brief)).toEqual(["heading-unknown climate.csv D1"]);
    }
  );
});

test("the columns of rows written back for mending are passed over without a word", () => {
  const {at, problems} = placed("climate.csv", ["date", "temperature_c", "humidity_pct", "_row", "_mark", "_problem"]);
  expect(at).toEqual({date: 0, temperatureC: 1, humidityPct: 2});
  expect(problems).toEqual([]);
});

test("a column with cells but without heading is in doubt, one without cells is not", () => {
  const text = "date,,temperature_c,,humidity_pct\n2025-01-01,,16,dry,55";
  const {records, problems} = recordsOf(text, "climate.csv");
  expect(records).toHaveLength(1);
  expect(problems.map(brief)).toEqual(["heading-empty climate.csv D1"]);
  expect(problems[0]).toMatchObject({severity: "doubt", heading: "column D", value: "dry"});
});

test("a column that another stands in for may be missing: density for mass", () => {
  const headings = ["square", "lot", "length_mm", "width_mm", "thickness_mm", "mc_pct", "density_kgm3"];
  expect(placed("squares.csv", headings).problems).toEqual([]);
  expect(placed("squares.csv", headings.slice(0, 6)).problems.map(brief)).toEqual([
    "heading-missing squares.csv row 1"
  ]);
});

test("headingTest knows ours, other names, units behind them, and the owner's; nothing else", () => {
  const known = headingTest(files["squares.csv"].schema, {headings: {mass_g: "Rohgewicht"}});
  for (const cell of ["square", "Length (in)", "weight oz", "MC%", "ROHGEWICHT", "Rohgewicht (oz)"])
    expect(known(cell), cell).toBe(true);
  for (const cell of ["", " ", "-", "1500", "L031", "square ".repeat(40), "quantity", "(mm)"])
    expect(known(cell), cell).toBe(false);
});

describe("what stands in brackets behind a heading without unit", () => {
  const missing = (file: FileName, heading: string, ours: string) => {
    const {problems} = recordsOf(`${plainHeadings[file].replace(ours, heading)}\n`, file);
    return problems.some(({code, heading: said}) => code === "heading-missing" && said === ours);
  };

  test.each([
    ["lots.csv", "Squares (rejected)", "squares_bought"],
    ["lots.csv", "Price each (per m3)", "price_each"],
    ["lots.csv", "Bought (by)", "bought_on"]
  ] as const)("makes it another heading: %s %s is not %s", (file, heading, ours) => {
    expect(missing(file, heading, ours)).toBe(true);
  });

  test.each([
    ["lots.csv", "Price each (€)", "price_each"],
    ["lots.csv", "Price each (GBP)", "price_each"],
    ["lots.csv", "Bought (dd/mm/yyyy)", "bought_on"]
  ] as const)("but a currency or the form of a date does not: %s %s is %s", (file, heading, ours) => {
    expect(missing(file, heading, ours)).toBe(false);
  });
});

test("of a thousand unknown headings fifty are named and the others counted", () => {
  const more = Array.from({length: 1000}, (_, index) => `x${index}`);
  const {problems} = recordsOf(`${plainHeadings["climate.csv"]},${more.join(",")}\n`, "climate.csv");
  expect(problems).toHaveLength(51);
  expect(problems.at(-1)).toMatchObject({code: "heading-unknown", value: "950 more"});
});
