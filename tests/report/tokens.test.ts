import {describe, expect, it} from "vitest";
import {dark, declarations, light} from "../../lib/report/tokens.ts";
import {contrast, distance, linear, oklab, sights} from "./color.ts";

const themes = [
  {name: "light", palette: light},
  {name: "dark", palette: dark}
];
const classes = ["c1", "c2", "c3", "c4", "c5"] as const;
const seen = Object.keys(sights) as (keyof typeof sights)[];

describe("the measures themselves", () => {
  it("contrast is 21 of black on white, and 4.54 of #767676, the lightest grey that passes on white (WCAG 2.2, understanding 1.4.3; from memory)", () => {
    expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 10);
    expect(contrast("#ffffff", "#767676")).toBeCloseTo(4.54, 2);
    expect(contrast("#777777", "#ffffff")).toBeLessThan(4.5);
  });

  it("oklab is 1, 0, 0 of white and as CSS Color 4 gives #7d2329 and #c65d07 (examples of oklab(); from memory)", () => {
    const near = (hex: string, wanted: readonly number[]) => {
      for (const [i, value] of oklab(linear(hex)).entries()) expect(value).toBeCloseTo(wanted[i]!, 2.3);
    };
    near("#ffffff", [1, 0, 0]);
    near("#7d2329", [0.401, 0.1147, 0.0453]);
    near("#c65d07", [0.5969, 0.1007, 0.1191]);
  });

  it("grey stays grey to every dichromat, and red and green draw together for two of them", () => {
    for (const sight of seen) expect(distance("#808080", "#818181", sight)).toBeLessThan(0.01);
    const [full, protan, deutan] = seen.map((sight) => distance("#c03000", "#6a7000", sight));
    expect(protan).toBeLessThan(full! / 2);
    expect(deutan).toBeLessThan(full! / 2);
  });
});

describe.each(themes)("the $name palette", ({palette}) => {
  it.each(["ink", "muted", "accent"] as const)("%s has at least 4.5:1 on the ground (WCAG 2.2, 1.4.3 AA)", (role) => {
    expect(contrast(palette[role], palette.ground)).toBeGreaterThanOrEqual(4.5);
  });

  it.each(["c0", ...classes] as const)("%s has at least 3:1 on the ground (WCAG 2.2, 1.4.11 AA)", (role) => {
    expect(contrast(palette[role], palette.ground)).toBeGreaterThanOrEqual(3);
  });

  it.each(seen)("any two classes are at least 0.15 apart, and 0.1 from the neutral one, to %s sight", (sight) => {
    for (const [i, a] of classes.entries()) {
      for (const b of classes.slice(0, i)) {
        expect(distance(palette[a], palette[b], sight), `${a} ${b}`).toBeGreaterThanOrEqual(0.15);
      }
      expect(distance(palette[a], palette.c0, sight), `${a} c0`).toBeGreaterThanOrEqual(0.1);
    }
  });
});

it("declarations(palette) are custom properties, one a role", () => {
  expect(declarations(light)).toMatch(/^--ground: #[0-9a-f]{6}; (--\w+: #[0-9a-f]{6}; ?)+$/);
  expect(declarations(light).split(";")).toHaveLength(Object.keys(light).length + 1);
});
