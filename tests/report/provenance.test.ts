import {createHash} from "node:crypto";
import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {htmlText} from "../../lib/report/html.ts";
import {provenance} from "../../lib/report/provenance.ts";

const sha256 = createHash("sha256").update("lot,bought_on\n").digest("hex");
const source = {
  files: [
    {
      name: "lots.csv",
      bytes: 1840,
      sha256,
      rowsRead: 19,
      rowsUsed: 18,
      rowsRefused: 1,
      firstDate: "2025-01-10",
      lastDate: "2026-09-18"
    },
    {name: "workshop.json", bytes: 2, sha256}
  ],
  asOf: "2026-10-31",
  version: "0.1.0",
  command: "npm run monthly",
  settings: [{name: "Interval", value: "95 %"}]
};
const {document} = new JSDOM(htmlText(provenance(source))).window;
const texts = (selector: string) => [...document.querySelectorAll(selector)].map((node) => node.textContent);

it("provenance(source) names date, version, command and settings", () => {
  expect(texts(".facts:first-of-type dt").slice(0, 4)).toEqual(["Speaks for", "Made by", "Command", "Interval"]);
  expect(texts(".facts:first-of-type dd").slice(0, 4)).toEqual(["2026-10-31", "0.1.0", "npm run monthly", "95 %"]);
});

it("provenance(source) lists each file with its size, rows and dates, and its fingerprint whole", () => {
  expect(texts("tbody tr:first-child > *")).toEqual([
    "lots.csv",
    "1\u202f840",
    "19",
    "18",
    "1",
    "2025-01-10",
    "2026-09-18"
  ]);
  expect(texts("tbody tr:last-child > *")).toEqual(["workshop.json", "2", "–", "–", "–", "–", "–"]);
  expect(texts(".hash")).toEqual([sha256, sha256]);
});

it("provenance throws on what is no fingerprint", () => {
  expect(() => provenance({...source, files: [{name: "lots.csv", bytes: 0, sha256: "abc"}]})).toThrow(
    'provenance: sha256 must be 64 hexadecimal digits, got "abc".'
  );
});
