import {expect, it} from "vitest";
import {figureStyle} from "../../../lib/report/style/figure.ts";
import {fontSize} from "../../../scripts/draw/clean.ts";

it("the wide drawing, 720 px as drawn, is shown only where its text is at least 11 px", () => {
  const threshold = Number(/@container \(min-width: (\d+)px\)/.exec(figureStyle)![1]);
  expect((threshold / 720) * fontSize).toBeGreaterThanOrEqual(11);
});
