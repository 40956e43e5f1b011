import {afterEach, beforeEach, expect, test, vi} from "vitest";
import {openPage} from "../../../scripts/live/openPage.ts";

let said = "";
beforeEach(() => {
  said = "";
  vi.spyOn(process.stderr, "write").mockImplementation((text) => {
    said += text;
    return true;
  });
});
afterEach(() => vi.restoreAllMocks());

const where = "Opening reports/index.html in your browser; if none comes up, open it yourself.\n";

test("openPage(target, opener) says where the page is and hands it to the opener", async () => {
  const opened: string[] = [];
  await openPage("reports/index.html", async (target) => opened.push(target));
  expect(opened).toEqual(["reports/index.html"]);
  expect(said).toBe(where);
});

test("openPage(target, opener) that fails says so, and is no fault", async () => {
  await openPage("reports/index.html", () => Promise.reject(new Error("spawn xdg-open ENOENT")));
  expect(said).toBe(`${where}No browser could be opened (spawn xdg-open ENOENT).\n`);
});
