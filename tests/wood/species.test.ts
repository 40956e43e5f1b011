import {expect, test} from "vitest";
import {knownConstant, type WoodName, woodConstants, woodNames, woodSource} from "../../lib/wood/species.ts";

test("woodConstants(name) gives plain numbers", () => {
  const {name, latin, radialPct, tangentialPer1Pct} = woodConstants("white-ash");
  expect({name, latin, radialPct, tangentialPer1Pct}).toEqual({
    name: "white-ash",
    latin: "Fraxinus americana",
    radialPct: 4.9,
    tangentialPer1Pct: 0.00274
  });
});

test("woodNames lists the four ashes, the four American maples and sycamore", () => {
  expect([...woodNames].sort()).toEqual(
    [
      "black-ash",
      "black-maple",
      "european-ash",
      "green-ash",
      "red-maple",
      "silver-maple",
      "sugar-maple",
      "sycamore",
      "white-ash"
    ].sort()
  );
});

test("every stored wood passes the check made of a workshop's own constants", () => {
  for (const name of woodNames) expect(woodConstants({...woodConstants(name)})).toEqual(woodConstants(name));
});

test("a stored wood cannot be changed by its user", () => {
  expect(Object.isFrozen(woodConstants("sugar-maple"))).toBe(true);
});

test("woodConstants(own) returns a workshop's own constants", () => {
  const own = {name: "orchard ash", latin: "Fraxinus excelsior", fibreSaturationPct: 27, volumetricPct: 9.18};
  expect(woodConstants(own)).toBe(own);
});

test("what nobody has published is absent, not zero", () => {
  expect("radialPer1Pct" in woodConstants("european-ash")).toBe(false);
  expect(woodSource("european-ash", "radialPer1Pct")).toBeUndefined();
});

test("woodSource says where a number is from and how far it was seen", () => {
  expect(woodSource("black-ash", "volumetricPct")).toEqual({
    value: 15.2,
    source: "Wood Handbook, FPL-GTR-190 (2010), table 4-3",
    tag: "read"
  });
});

const own = {name: "mine", latin: "Acer", fibreSaturationPct: 30};
const list = woodNames.join(", ");
test.each<[string, () => unknown, string]>([
  [
    "a wood not stored",
    () => woodConstants("oak" as WoodName),
    `woodConstants: name must be one of ${list}, got "oak".`
  ],
  [
    "an inherited name",
    () => woodConstants("toString" as WoodName),
    `woodConstants: name must be one of ${list}, got "toString".`
  ],
  [
    "nothing",
    () => woodConstants(undefined as unknown as WoodName),
    "woodConstants: species must be a stored name or constants of your own, got undefined."
  ],
  [
    "null",
    () => woodConstants(null as unknown as WoodName),
    "woodConstants: species must be a stored name or constants of your own, got null."
  ],
  [
    "source of none",
    () => woodSource("oak" as WoodName, "radialPct"),
    `woodSource: name must be one of ${list}, got "oak".`
  ],
  [
    "a fraction for percent",
    () => woodConstants({...own, volumetricPct: 0.133}),
    "woodConstants: volumetricPct of mine must be between 1 and 35, got 0.133."
  ],
  [
    "no fibre saturation",
    () => woodConstants({...own, fibreSaturationPct: Number.NaN}),
    "woodConstants: fibreSaturationPct of mine must be between 15 and 45, got NaN."
  ],
  [
    "an unknown constant",
    () => knownConstant(woodConstants("sycamore"), "radialPer1Pct", "changeInUse"),
    "changeInUse: radialPer1Pct of sycamore must be known; pass constants of your own that hold it, got undefined."
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
