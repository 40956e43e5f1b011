import {describe, expect, test} from "vitest";
import {equilibriumHumidity} from "../../lib/wood/equilibriumHumidity.ts";
import {equilibriumMoisture} from "../../lib/wood/equilibriumMoisture.ts";

// Source: Wood Handbook, FPL-GTR-190 (2010), table 4-2, p. 4-4. Tag: read. Fahrenheit as printed, cells [humidity %, moisture %].
const table: [fahrenheit: number, cells: [humidityPct: number, moisturePct: number][]][] = [
  [
    30,
    [
      [30, 6.3],
      [50, 9.5],
      [65, 12.4],
      [80, 16.5]
    ]
  ],
  [
    50,
    [
      [25, 5.5],
      [40, 7.9],
      [55, 10.3],
      [75, 14.8]
    ]
  ],
  [
    70,
    [
      [20, 4.5],
      [30, 6.2],
      [40, 7.7],
      [50, 9.2],
      [60, 11.0],
      [65, 12.0],
      [75, 14.4],
      [85, 17.9]
    ]
  ],
  [
    90,
    [
      [35, 6.7],
      [50, 8.9],
      [65, 11.5],
      [80, 15.4]
    ]
  ],
  [
    110,
    [
      [30, 5.6],
      [50, 8.4]
    ]
  ],
  [
    130,
    [
      [45, 7.2],
      [70, 11.3]
    ]
  ]
];

// Tolerance 0.06 %: half a printed digit, and 0.01 for the coefficients' own rounding. Over all 342 cells of 18 rows the
// equation and the table differ by at most 0.056 (computed), and 10 cells differ in the printed digit.
describe("equilibriumMoisture against table 4-2", () => {
  for (const [fahrenheit, cells] of table) {
    const temperatureC = (fahrenheit - 32) / 1.8;
    test.each(cells)(`at ${fahrenheit} °F, %s percent humidity is %s percent`, (humidityPct, printed) => {
      expect(Math.abs(equilibriumMoisture({temperatureC, humidityPct}) - printed)).toBeLessThanOrEqual(0.06);
    });
    // Tolerance 0.5 % humidity: 0.06 % moisture over the flattest slope of the table, 0.13 % for 1 % humidity.
    test.each(cells)(
      `and back: at ${fahrenheit} °F, wood at rest in %s percent humidity is at %s percent`,
      (humidityPct, moisturePct) => {
        const back = equilibriumHumidity({temperatureC, moisturePct});
        expect(Math.abs(back - humidityPct)).toBeLessThanOrEqual(0.5);
      }
    );
  }
});

// Source: the same table. Tag: read in a secondary source, which quotes the 2021 edition. Same tolerance.
describe("equilibriumMoisture against more of table 4-2", () => {
  test.each([
    [30, 75, 14.9],
    [30, 95, 24.3],
    [70, 5, 1.3],
    [70, 95, 23.9],
    [100, 50, 8.7],
    [100, 90, 19.5]
  ])("at %s °F, %s percent humidity is %s percent", (fahrenheit, humidityPct, printed) => {
    const temperatureC = (fahrenheit - 32) / 1.8;
    expect(Math.abs(equilibriumMoisture({temperatureC, humidityPct}) - printed)).toBeLessThanOrEqual(0.06);
  });

  // The rest of the 70 °F row. Tag: from memory.
  test.each([
    [10, 2.5],
    [15, 3.5],
    [25, 5.4],
    [35, 6.9],
    [45, 8.5],
    [55, 10.1],
    [70, 13.1],
    [80, 16.0],
    [90, 20.5]
  ])("at 70 °F, %s percent humidity is %s percent", (humidityPct, printed) => {
    expect(Math.abs(equilibriumMoisture({temperatureC: 190 / 9, humidityPct}) - printed)).toBeLessThanOrEqual(0.06);
  });

  // The table is made with the equation, and one digit of it is not what the equation gives: at 70 °F and 85 % it prints 17.9 (read), the
  // equation gives 17.95 (computed apart, twice), which rounds up. Ten of 342 cells are like that: compare by 0.06, not by digit.
  test("the printed 17.9 at 70 °F and 85 % should be 18.0", () => {
    expect(equilibriumMoisture({temperatureC: 190 / 9, humidityPct: 85}).toFixed(1)).toBe("18.0");
  });
});

// Source: eq. 4-5, Wood Handbook (2010 and 2021), p. 4-3, coefficients as quoted word for word in two secondary sources. Tag: read there.
// The published equation written out once more, up to the hot end, where its small terms tell: a copy against slips of the pen in any
// digit of the twelve. What grounds the equation is the table above. Tolerance 1e-12, rounding.
test("equilibriumMoisture has the twelve published coefficients, to the digit", () => {
  const [w, k, k1, k2] = [
    [349, 1.29, 0.0135],
    [0.805, 0.000736, -0.00000273],
    [6.27, -0.00938, -0.000303],
    [1.91, 0.0407, -0.000293]
  ].map(
    ([constant, first, second]) =>
      (t: number) =>
        constant! + t * (first! + t * second!)
  );
  for (const t of [-1.1, 4, 20, 55, 99]) {
    for (const humidityPct of [5, 35, 65, 95]) {
      const kh = (k!(t) * humidityPct) / 100;
      const [one, two] = [k1!(t) * kh, k1!(t) * k2!(t) * kh * kh];
      const printed = (1800 / w!(t)) * (kh / (1 - kh) + (one + 2 * two) / (1 + one + two));
      const ours = equilibriumMoisture({temperatureC: t, humidityPct});
      expect(Math.abs(ours / printed - 1)).toBeLessThan(1e-12);
    }
  }
});

// Worked out apart from this code from the published equation, by two other hands. Tag: computed. Tolerance half a printed digit.
describe("equilibriumMoisture and equilibriumHumidity as others work the equation", () => {
  test.each([
    [20, 65, 11.996, 0.0005],
    [20, 50, 9.271, 0.0005],
    [20, 37, 7.27, 0.005],
    [20, 75, 14.45, 0.005],
    [20, 85, 18.0, 0.005],
    [20, 95, 23.94, 0.005],
    [5, 85, 18.47, 0.005],
    [2, 83, 17.66, 0.005],
    [20, 100, 28.8, 0.05]
  ])("at %s °C, %s percent humidity is %s percent", (temperatureC, humidityPct, moisturePct, tolerance) => {
    const ours = equilibriumMoisture({temperatureC, humidityPct});
    expect(Math.abs(ours - moisturePct)).toBeLessThanOrEqual(tolerance);
  });

  test.each([
    [8, 41.83, 0.005],
    [12, 65.02, 0.005],
    [15, 76.8, 0.05],
    [16, 79.9, 0.05],
    [18, 85.0, 0.05],
    [20, 89.1, 0.05],
    [23, 93.8, 0.05]
  ])("at 20 °C, wood at %s percent rests in %s percent humidity", (moisturePct, humidityPct, tolerance) => {
    const ours = equilibriumHumidity({temperatureC: 20, moisturePct});
    expect(Math.abs(ours - humidityPct)).toBeLessThanOrEqual(tolerance);
  });

  // Source: a public page's worked examples of the same equation at 70 °F, humidity in whole percents. Tag: read. Tolerance 0.8 % humidity: half a
  // percent, and half a digit of moisture over the flattest slope.
  test.each([
    [5.3, 25],
    [11.1, 60],
    [17.6, 84],
    [19.0, 87],
    [25.0, 97]
  ])("at 70 °F, wood at %s percent rests in %s percent humidity", (moisturePct, humidityPct) => {
    const ours = equilibriumHumidity({temperatureC: 190 / 9, moisturePct});
    expect(Math.abs(ours - humidityPct)).toBeLessThanOrEqual(0.8);
  });

  // The last example of that page: saturated air. Half a printed digit.
  test("at 70 °F, saturated air is 28.8 percent", () => {
    const end = equilibriumMoisture({temperatureC: 190 / 9, humidityPct: 100});
    expect(Math.abs(end - 28.8)).toBeLessThanOrEqual(0.05);
  });
});

// Saturated air: the equation ends near 28 to 30 %, which is not fibre saturation ("averages about 30 %", read, and hangs on the wood). Tag:
// computed apart; at store temperatures.
test.each([0, 10, 20, 30])("in saturated air at %s °C the equation ends between 28 and 30 percent", (temperatureC) => {
  const end = equilibriumMoisture({temperatureC, humidityPct: 100});
  expect(end).toBeGreaterThan(28);
  expect(end).toBeLessThan(30);
});

// Source: the same equation's Fahrenheit form, fitted apart. Tag: read in a secondary source; it reproduces the printed table to 0.067.
// Tolerance 0.13 %: what the two forms may each be away from the table (0.056 + 0.067).
test("equilibriumMoisture agrees with the equation's Fahrenheit form from 30 to 200 °F", () => {
  for (let f = 30; f <= 200; f += 10) {
    for (let humidityPct = 5; humidityPct <= 95; humidityPct += 5) {
      const w = 330 + 0.452 * f + 0.00415 * f ** 2;
      const k = 0.791 + 0.000463 * f - 0.000000844 * f ** 2;
      const k1 = 6.34 + 0.000775 * f - 0.0000935 * f ** 2;
      const k2 = 1.09 + 0.0284 * f - 0.0000904 * f ** 2;
      const x = (k * humidityPct) / 100;
      const other = (1800 / w) * (x / (1 - x) + (k1 * x + 2 * k1 * k2 * x * x) / (1 + k1 * x + k1 * k2 * x * x));
      const ours = equilibriumMoisture({temperatureC: (f - 32) / 1.8, humidityPct});
      expect(Math.abs(ours - other)).toBeLessThanOrEqual(0.13);
    }
  }
});

// Source: the standard climate in which wood is said to be at 12 % (ISO 554; EN 408). Tag: from memory, with table 4-2's
// 12.0 at 21.1 °C. Tolerance 0.1 %: the 12 is a whole number.
test("20 °C and 65 % is the climate of 12 %", () => {
  expect(Math.abs(equilibriumMoisture({temperatureC: 20, humidityPct: 65}) - 12)).toBeLessThanOrEqual(0.1);
  expect(Math.abs(equilibriumHumidity({temperatureC: 20, moisturePct: 12}) - 65)).toBeLessThanOrEqual(0.6);
});

// Source: a comparison of this equation with older tables, read in a secondary source: 140 °F and 55 % is 8.4 by the equation
// and 8.0 in the table of before. Tolerance 0.05 %: one printed digit.
test("at 140 °F and 55 % it is 8.4, not the 8.0 of older tables", () => {
  expect(Math.abs(equilibriumMoisture({temperatureC: 60, humidityPct: 55}) - 8.4)).toBeLessThanOrEqual(0.05);
  expect(equilibriumMoisture({temperatureC: 60, humidityPct: 55}) - 8.0).toBeGreaterThan(0.3);
});

// Source: a drying adviser's round figures for rooms. Tag: read in a secondary source. Tolerance 0.5 %: whole percents.
test.each([
  [30, 6],
  [50, 9],
  [65, 12],
  [80, 16]
])("in a room, %s percent humidity is about %s percent", (humidityPct, round) => {
  expect(Math.abs(equilibriumMoisture({temperatureC: 21, humidityPct}) - round)).toBeLessThanOrEqual(0.5);
});

// Source: a trade data sheet for European ash at 20 °C. Tag: read in a secondary source. Tolerance 1 %: woods differ by that
// much, and a drying wood holds more than a wetting one.
test.each([
  [37, 7.3],
  [83, 16.5]
])("European ash at 20 °C and %s percent was measured at %s percent", (humidityPct, measured) => {
  expect(Math.abs(equilibriumMoisture({temperatureC: 20, humidityPct}) - measured)).toBeLessThanOrEqual(1);
});

// Sources: mean moisture of wood indoors, Wood Handbook, FPL-GTR-190 (2010), fig. 13-1: 8 % most of the US, 6 % dry southwest, 11 % damp coast
// (read in a secondary source), of single pieces 6 to 10, 4 to 9 and 8 to 13 (from memory); 12 % outdoors under cover in the north
// (FPL Technical Note F-13, read in a secondary source); EN 942, 6 to 10 % heated from 21 °C, 9 to 13 % from 12 to 21 °C, 12 to 16 % unheated
// (from memory). Expected humidity: the printed columns of table 4-2 at 70 °F between which each falls (read, save 10 and 15 %).
test.each([
  [4, 15, 20],
  [6, 20, 30],
  [8, 40, 50],
  [9, 40, 50],
  [10, 50, 60],
  [11, 59, 61],
  [12, 64, 66],
  [13, 65, 75],
  [16, 75, 85]
])("wood that stays at %s percent at 70 °F needs air of %s to %s percent humidity", (moisturePct, low, high) => {
  const humidityPct = equilibriumHumidity({temperatureC: 21.1, moisturePct});
  expect(humidityPct).toBeGreaterThan(low);
  expect(humidityPct).toBeLessThan(high);
});
