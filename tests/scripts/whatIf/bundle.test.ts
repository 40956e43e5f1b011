import {expect, test} from "vitest";
import {htmlText} from "../../../lib/report/html.ts";
import {policyHash} from "../../../scripts/io/policyHash.ts";
import {dataBlock} from "../../../scripts/pages/season/whatIf.ts";
import {whatIfScript} from "../../../scripts/whatIf/bundle.ts";

test("whatIfScript: one text known by its hash, that cannot end itself, under 400 KiB, and names whose work is in it", () => {
  const {code, hash} = whatIfScript();
  expect(hash).toBe(policyHash(code));
  expect(code).not.toMatch(/<\/script|<!--/i);
  expect(Buffer.byteLength(code)).toBeLessThan(400 * 1024);
  expect(code).toContain("@observablehq/plot");
  expect(code).not.toMatch(/\bfetch\(|XMLHttpRequest|importScripts|\beval\(/);
});

test("dataBlock: a name cannot end the block, and comes back as it was", () => {
  const species = ["</script><script>alert(1)</script>", "<!-- ash"];
  const text = htmlText(
    dataBlock({input: {needs: []}, species, serviceGoal: 0.9, currency: "<b>", endsOn: "2028-05-31"})
  );
  expect(text.match(/<\/script/gi)).toHaveLength(1);
  expect(text).not.toContain("<!--");
  expect(JSON.parse(text.slice(text.indexOf(">") + 1, text.lastIndexOf("<"))).species).toEqual(species);
});
