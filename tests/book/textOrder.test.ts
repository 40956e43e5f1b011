import {expect, test} from "vitest";
import {textOrder} from "../../lib/book/textOrder.ts";

test("textOrder goes by the code of the characters: capitals before small letters, accents last", () => {
  expect(["ö", "a", "Z", "", "z", "a10", "a2"].toSorted(textOrder)).toEqual(["", "Z", "a", "a10", "a2", "z", "ö"]);
  expect(textOrder("a", "a")).toBe(0);
});
