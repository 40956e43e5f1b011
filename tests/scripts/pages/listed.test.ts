import {expect, test} from "vitest";
import {listed} from "../../../scripts/pages/listed.ts";

test("listed puts commas and an and between", () => {
  expect([[], ["a"], ["a", "b"], ["a", "b", "c"]].map(listed)).toEqual(["", "a", "a and b", "a, b and c"]);
});
