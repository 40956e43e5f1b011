import {existsSync} from "node:fs";
import {afterEach, expect, it, vi} from "vitest";
import {findBrowser} from "../../../scripts/golden/findBrowser.ts";

afterEach(() => vi.unstubAllEnvs());

it("findBrowser() is the browser that CHROME_PATH names", () => {
  vi.stubEnv("CHROME_PATH", "/a browser/of mine");
  expect(findBrowser()).toBe("/a browser/of mine");
});

it("findBrowser() without CHROME_PATH is one that is installed, or none", () => {
  vi.stubEnv("CHROME_PATH", undefined);
  const found = findBrowser();
  expect(found === undefined || existsSync(found)).toBe(true);
});
