import {expect, it} from "vitest";
import {dateText} from "../../lib/report/dateText.ts";

it('dateText("2026-10-30") is "30 October 2026", day and month kept together', () => {
  expect(dateText("2026-10-30")).toBe("30\u00a0October 2026");
  expect(dateText("2026-01-05")).toBe("5\u00a0January 2026");
});

it("dateText agrees with the platform’s own calendar on every month", () => {
  for (let month = 1; month <= 12; month++) {
    const iso = `2026-${String(month).padStart(2, "0")}-15`;
    const wanted = new Date(iso).toLocaleDateString("en-GB", {
      day: "numeric",
      month: "long",
      year: "numeric",
      timeZone: "UTC"
    });
    expect(dateText(iso).replace("\u00a0", " ")).toBe(wanted);
  }
});

it.each(["30.10.2026", "2026-13-01", "2026-00-01", ""])("dateText(%j) throws", (text) => {
  expect(() => dateText(text)).toThrow(`dateText: isoDate must be a date as YYYY-MM-DD, got "${text}".`);
});
