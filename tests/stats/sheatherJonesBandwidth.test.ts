import {expect, test} from "vitest";
import {silvermanBandwidth} from "../../lib/stats/kernelDensity.ts";
import {randomStream} from "../../lib/stats/random.ts";
import {sheatherJonesBandwidth} from "../../lib/stats/sheatherJonesBandwidth.ts";
import {shuffled} from "./arbitrary.ts";

const random = randomStream(9);
const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
const one = Array.from({length: 200}, normal);
const two = one.map((x, i) => x + (i % 2 === 0 ? 8 : 0));

test("sheatherJonesBandwidth of one hump is about Silverman's, of two humps much less", () => {
  const ratio = sheatherJonesBandwidth(one)! / silvermanBandwidth(one)!;
  expect(ratio).toBeGreaterThan(0.6);
  expect(ratio).toBeLessThan(1.4);
  expect(sheatherJonesBandwidth(two)!).toBeLessThan(0.5 * silvermanBandwidth(two)!);
});

test("sheatherJonesBandwidth stretches with the values and does not depend on their order", () => {
  const h = sheatherJonesBandwidth(two)!;
  expect(sheatherJonesBandwidth(shuffled(two, 5))).toBeCloseTo(h, 8);
  expect(sheatherJonesBandwidth(two.map((x) => 100 * x + 7))).toBeCloseTo(100 * h, 6);
});

test("sheatherJonesBandwidth by plug-in smooths more than solved for two humps, less than Silverman's rule", () => {
  const plugIn = sheatherJonesBandwidth(two, {method: "plug-in"})!;
  expect(plugIn).toBeGreaterThan(sheatherJonesBandwidth(two)!);
  expect(plugIn).toBeLessThan(silvermanBandwidth(two)!);
});

test("sheatherJonesBandwidth of ever finer bins comes to that of the values", () => {
  const off = [30, 300, 100_000].map((bins) =>
    Math.abs(sheatherJonesBandwidth(two, {bins})! / sheatherJonesBandwidth(two)! - 1)
  );
  expect(off[0]).toBeGreaterThan(off[2]!);
  expect(off[1]).toBeLessThan(0.02);
  expect(off[2]).toBeLessThan(1e-4);
});

test("sheatherJonesBandwidth refuses bins that are no count", () => {
  expect(() => sheatherJonesBandwidth(two, {bins: 0.5})).toThrow(
    "sheatherJonesBandwidth: bins must be a count of 1 or more, got 0.5."
  );
});

test("sheatherJonesBandwidth refuses NaN", () => {
  expect(() => sheatherJonesBandwidth([1, Number.NaN])).toThrow(
    "sheatherJonesBandwidth: values must be finite numbers"
  );
});

test("sheatherJonesBandwidth has no answer for one value or equal ones", () => {
  expect(sheatherJonesBandwidth([5])).toBeUndefined();
  expect(sheatherJonesBandwidth([5, 5, 5, 5, 5])).toBeUndefined();
});
