import {expect, test} from "vitest";
import {latheOffs} from "../../lib/book/latheOffs.ts";
import {makePiece, settings} from "../pieces.ts";

// The default targets: rough-round 37 mm, the square none.
test("latheOffs: diameters fresh from the lathe less the stage's target", () => {
  const at = (diameterMm: number | undefined, turned = true, stage = "rough-round") => ({
    day: 60,
    stage,
    turned,
    ...(diameterMm !== undefined && {diameterMm})
  });
  const pieces = [
    makePiece({measurements: [at(37.5), at(38, false), at(undefined)]}),
    makePiece({measurements: [at(36.75), at(40, true, "square")]})
  ];
  expect(latheOffs({settings, pieces}, "rough-round")).toEqual([0.5, -0.25]);
  expect(latheOffs({settings, pieces}, "square")).toEqual([]);
});
