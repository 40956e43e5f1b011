import {expect, test} from "vitest";
import {fitText, fitTitle} from "../../lib/figures/fitText.ts";
import {textWidth} from "../../lib/report/textWidth.ts";

test("fitText leaves a text that fits, and makes one line of it", () => {
  expect(fitText("Haskerdene Mill", 120, 12)).toBe("Haskerdene Mill");
  expect(fitText("Haskerdene\n\tMill", 120, 12)).toBe("Haskerdene Mill");
});

test.each([
  "Haskerdene Mill and Timber Yard behind the Old Lock",
  "</script><b>WWWWWWWWWWWWWWWWWWWW",
  "лесопилка у старого шлюза",
  "老水闸旁边的木材厂老水闸旁边的木材厂"
])("fitText(%s) fits, begins as the whole does and says that it is cut", (name) => {
  for (const width of [40, 90, 150]) {
    const cut = fitText(name, width, 12);
    expect(textWidth(cut, 12)).toBeLessThanOrEqual(width);
    expect(cut).toMatch(/[^\s]…$/u);
    expect(name.startsWith(cut.slice(0, -1))).toBe(true);
  }
});

test("fitText keeps whole characters, at least one", () => {
  expect(fitText("🪵🪵🪵🪵", 1, 12)).toBe("🪵…");
  expect(fitText("", 10, 12)).toBe("");
});

test.each([
  [0, 12],
  [-1, 12],
  [10, 0]
])("fitText of a width %d and a size %d is refused", (width, size) => {
  expect(() => fitText("a", width, size)).toThrow(RangeError);
});

test("fitTitle gives the plain title from the eleventh word on", () => {
  expect(fitTitle("one two three four five six seven eight nine ten", "plain words")).toMatch(/^one/);
  expect(fitTitle("one two three four five six seven eight nine ten eleven", "plain words")).toBe("plain words");
});
