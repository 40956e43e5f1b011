import {expect, it} from "vitest";
import {script} from "../../lib/report/script.ts";
import {style} from "../../lib/report/style.ts";

it("the page's script is under 6 KiB", () => {
  expect(new TextEncoder().encode(script).length).toBeLessThan(6 * 1024);
});

it("the page's script is a script, and one that cannot end itself within a page", () => {
  expect(() => new Function(script)).not.toThrow();
  expect(script).not.toMatch(/<\/script|<!--/i);
});

it.each([
  "innerHTML",
  "outerHTML",
  "insertAdjacentHTML",
  "document.write",
  "eval(",
  "Function(",
  "fetch",
  "XMLHttpRequest",
  "import(",
  "Storage",
  "cookie"
])("the page's script does without %s", (word) => expect(script).not.toContain(word));

it("the style sheet knows every class that the script gives", () => {
  const classes = [...script.matchAll(/className: "(\w+)"|classList\.add\("(\w+)"\)/g)].map(
    ([, made, added]) => made ?? added
  );
  expect(new Set(classes)).toEqual(new Set(["tip", "live", "at", "said", "choice"]));
  for (const name of ["tip", "live", "at", "choice"]) expect(style).toContain(`.${name} {`);
});
