import fc from "fast-check";
import {expect, test} from "vitest";
import {equilibriumHumidity} from "../../lib/wood/equilibriumHumidity.ts";
import {equilibriumMoisture} from "../../lib/wood/equilibriumMoisture.ts";

test("equilibriumHumidity turns equilibriumMoisture round", () => {
  const temperature = fc.double({min: -1.2, max: 99, noNaN: true});
  fc.assert(
    fc.property(temperature, fc.double({min: 0, max: 100, noNaN: true}), (temperatureC, humidityPct) => {
      const moisturePct = equilibriumMoisture({temperatureC, humidityPct});
      expect(equilibriumHumidity({temperatureC, moisturePct})).toBeCloseTo(humidityPct, 8);
    })
  );
});

const at = (temperatureC: number, moisturePct: number) => () => equilibriumHumidity({temperatureC, moisturePct});
test.each<[string, () => unknown, string]>([
  ["frost", at(-5, 12), "equilibriumHumidity: temperatureC must be from -1.2 to 99, got -5."],
  ["wood wetter than any air makes it", at(20, 45), "equilibriumHumidity: moisturePct must be from 0 to 28.8, got 45."],
  ["less than dry", at(20, -1), "equilibriumHumidity: moisturePct must be from 0 to 28.8, got -1."]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
