import {headings, type TableName} from "./csv.ts";

const unit = (text: string, of: string) => ({text, unit: of});
const plain = (text: string) => ({text, unit: ""});

/** Every column of the book: what it holds, and its unit. */
const columns: Record<TableName, {row: string; columns: Record<string, {text: string; unit: string}>}> = {
  "lots.csv": {
    row: "a purchase: one supplier, one species, one day",
    columns: {
      lot: plain("number of the lot, L001 on"),
      bought_on: plain("day of the purchase"),
      supplier: plain("who sold it"),
      species: plain("`ash` or `maple`"),
      squares_bought: plain("squares paid for"),
      squares_looked_at: plain("squares handled to find them; blank for about one lot in five"),
      price_each: unit("price of one square", "£"),
      carriage: unit("carriage of the lot; a visit that bought two lots is shared between them", "£"),
      drying: plain("`air` or `kiln`, before it was sold"),
      note: plain("anything")
    }
  },
  "squares.csv": {
    row: "a square, measured when it came in",
    columns: {
      square: plain("its number for life: A for ash, M for maple"),
      lot: plain("the lot it came in"),
      measured_on: plain("day it was measured, up to two days after the purchase"),
      length_mm: unit("length, by tape", "mm"),
      width_mm: unit("width, by calliper", "mm"),
      thickness_mm: unit("thickness, by calliper", "mm"),
      mass_g: unit("mass", "g"),
      mc_pct: unit("moisture content by meter, % of oven-dry mass", "%"),
      rings_per_25mm: plain("growth rings in 25 mm across them; often not counted in maple"),
      grain_one_in: plain("slope of the grain, one in so many; written down from May 2025 on, mostly"),
      colour: plain("`white`, `cream` or `brown`; written down from May 2025 on, mostly"),
      note: plain("anything")
    }
  },
  "events.csv": {
    row: "something that happened to a piece; rows of one day stand in the order in which it happened",
    columns: {
      date: plain("day it happened"),
      square: plain("the square"),
      event: plain("`turned`, `weighed`, `discarded`, `diverted`, `allotted` or `delivered`"),
      stage: plain("turned: the stage reached; discarded and diverted: the stage it was at; else blank"),
      mass_g: unit("mass; turned: after the cut. A weighing on the day of a turning was before the cut", "g"),
      mc_pct: unit("moisture content by meter, now and then", "%"),
      diameter_mm: unit("turned: diameter at the large end, by calliper", "mm"),
      deflection_mm: unit(
        "turned to finished: deflection in the workshop's bending test; from May 2025 on, mostly",
        "mm"
      ),
      defect: plain("discarded: why, one of the defects of `workshop.json`"),
      order: plain("allotted, delivered: the order"),
      note: plain("anything")
    }
  },
  "orders.csv": {
    row: "an order",
    columns: {
      order: plain("number of the order"),
      ordered_on: plain("day it came in"),
      wanted_by: plain("day it was promised for"),
      species: plain("`ash` or `maple`"),
      length_mm: unit("length wanted", "mm"),
      tip_mm: unit("tip diameter wanted", "mm"),
      mass_min_g: unit("lightest shaft it takes; blank where any weight will do", "g"),
      mass_max_g: unit("heaviest shaft it takes", "g"),
      deflection_min_mm: unit(
        "stiffest shaft it takes: least deflection in the bending test, cut to the order; mostly blank",
        "mm"
      ),
      deflection_max_mm: unit("most pliant shaft it takes", "mm"),
      grain_one_in: plain("steepest grain it takes, one in so many; mostly blank"),
      colour: plain("colour wanted; mostly blank"),
      quantity: plain("shafts ordered"),
      lost: plain("of these, shafts whose customer did not wait; blank where none"),
      price_each: unit("price of one shaft", "£"),
      note: plain("anything")
    }
  },
  "climate.csv": {
    row: "a reading of the air in the store, every Monday",
    columns: {
      date: plain("day of the reading"),
      temperature_c: unit("air temperature", "°C"),
      humidity_pct: unit("relative humidity", "%")
    }
  }
};

/** The columns of every file as Markdown tables. */
export function columnDocs(): string {
  const docs = (Object.keys(headings) as TableName[]).map((file) => {
    const lines = headings[file].map((heading) => {
      const {text, unit: of} = columns[file].columns[heading]!;
      return `| ${heading} | ${of} | ${text} |`;
    });
    return `\n### ${file}\n\nOne row is ${columns[file].row}.\n\n| column | unit | holds |\n|---|---|---|\n${lines.join("\n")}\n`;
  });
  return docs.join("");
}
