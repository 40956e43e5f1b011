import fc from "fast-check";
import {expect, test} from "vitest";
import {equilibriumMoisture} from "../../lib/wood/equilibriumMoisture.ts";

test("dry air leaves no water: equilibriumMoisture at 0 % is 0", () => {
  expect(equilibriumMoisture({temperatureC: 20, humidityPct: 0})).toBe(0);
});

// By hand at 0 °C and 50 %: W 349, Kh 0.4025, K1 6.27, K2 1.91.
// 0.4025/0.5975 = 0.67364; (2.523675 + 3.880313)/(1 + 2.523675 + 1.940156) = 6.403988/5.463831 = 1.17207; 1800/349 · 1.84571 = 9.5194.
test("equilibriumMoisture at 0 °C, 50 % is 9.52", () => {
  expect(equilibriumMoisture({temperatureC: 0, humidityPct: 50})).toBeCloseTo(9.519, 3);
});

const temperature = fc.double({min: -1.2, max: 99, noNaN: true});
test("damper air means wetter wood, and never more than 35 %", () => {
  fc.assert(
    fc.property(temperature, fc.double({min: 0, max: 99, noNaN: true}), (temperatureC, humidityPct) => {
      const moisturePct = equilibriumMoisture({temperatureC, humidityPct});
      expect(equilibriumMoisture({temperatureC, humidityPct: humidityPct + 1})).toBeGreaterThan(moisturePct);
      expect(moisturePct).toBeLessThan(35);
    })
  );
});

test("of two stores of one humidity the warmer keeps the drier wood, from 20 °C up", () => {
  const humidity = fc.double({min: 5, max: 95, noNaN: true});
  fc.assert(
    fc.property(fc.double({min: 20, max: 98, noNaN: true}), humidity, (temperatureC, humidityPct) => {
      const moisturePct = equilibriumMoisture({temperatureC, humidityPct});
      expect(equilibriumMoisture({temperatureC: temperatureC + 1, humidityPct})).toBeLessThan(moisturePct);
    })
  );
});

const at = (temperatureC: number, humidityPct: number) => () => equilibriumMoisture({temperatureC, humidityPct});
test.each<[string, () => unknown, string]>([
  ["frost", at(-5, 50), "equilibriumMoisture: temperatureC must be from -1.2 to 99, got -5."],
  ["steam", at(100, 50), "equilibriumMoisture: temperatureC must be from -1.2 to 99, got 100."],
  ["more than saturated", at(20, 101), "equilibriumMoisture: humidityPct must be from 0 to 100, got 101."],
  ["no reading", at(20, Number.NaN), "equilibriumMoisture: humidityPct must be from 0 to 100, got NaN."]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
