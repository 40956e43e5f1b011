import {mkdtempSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {expect, it} from "vitest";
import {keepReport, keptBefore} from "../../../scripts/io/keptReports.ts";

const folder = mkdtempSync(join(tmpdir(), "kept-"));
const kept = (asOf: string, workshop = "W") => ({
  format: 1 as const,
  workshop,
  asOf,
  version: "0.1.0",
  per100: {"finished shafts": 66},
  rows: {events: {"2026-08": [41, "cccccccccccc"] as [number, string]}}
});

it("keptBefore() without a folder finds nothing", () => {
  expect(keptBefore(folder, "W", "2026-10-01")).toBeUndefined();
});

it("keptBefore() is the last report of the workshop before the day, as it was kept", () => {
  for (const asOf of ["2026-08-31", "2026-09-30", "2026-10-31"]) keepReport(folder, kept(asOf));
  expect(keptBefore(folder, "W", "2026-10-01")).toEqual(kept("2026-09-30"));
  expect(keptBefore(folder, "W", "2026-09-30")).toEqual(kept("2026-08-31"));
  expect(keptBefore(folder, "W", "2026-08-31")).toBeUndefined();
});

it("keptBefore() passes over another workshop's report, a damaged one and one of another form", () => {
  keepReport(folder, kept("2026-09-29", "V"));
  writeFileSync(join(folder, "kept", "monthly-2026-09-30.json"), "{half");
  expect(keptBefore(folder, "W", "2026-10-01")).toEqual(kept("2026-08-31"));
  writeFileSync(join(folder, "kept", "monthly-2026-09-30.json"), JSON.stringify({...kept("2026-09-30"), format: 2}));
  expect(keptBefore(folder, "W", "2026-10-01")).toEqual(kept("2026-08-31"));
  expect(keptBefore(folder, "V", "2026-10-01")).toEqual(kept("2026-09-29", "V"));
});
