import type {Browser} from "playwright-core";
import {afterAll, beforeAll, describe, expect, it} from "vitest";
import {findBrowser, startBrowser} from "../../scripts/golden/findBrowser.ts";

/**
 * A group of tests that drive an installed browser. Where none is found, one test says so by name; it passes at home and
 * fails in CI, so that CI can never go without.
 */
export function describeInBrowser(name: string, tests: (browser: () => Browser) => void): void {
  const path = findBrowser();
  describe(name, () => {
    if (path === undefined) {
      it("needs an installed Chromium, Chrome or Edge: install one, or set CHROME_PATH", () => {
        expect(process.env.CI, "CI must have a browser").toBeFalsy();
      });
      return;
    }
    let browser: Browser;
    beforeAll(async () => {
      browser = await startBrowser(path);
    });
    afterAll(() => browser.close());
    tests(() => browser);
  });
}
