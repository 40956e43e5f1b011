import {expect, test, vi} from "vitest";
import {openPage} from "../../../scripts/live/openPage.ts";

test("openPage(target, opener) hands the page to the opener", async () => {
  const opened: string[] = [];
  await openPage("reports/index.html", async (target) => opened.push(target));
  expect(opened).toEqual(["reports/index.html"]);
});

test("openPage(target, opener) that fails says where the page is, and is no fault", async () => {
  const said = vi.spyOn(process.stderr, "write").mockReturnValue(true);
  try {
    await openPage("reports/index.html", () => Promise.reject(new Error("spawn xdg-open ENOENT")));
    expect(said.mock.calls.flat().join("")).toBe(
      "No browser could be opened (spawn xdg-open ENOENT). Open it yourself: reports/index.html\n"
    );
  } finally {
    said.mockRestore();
  }
});
