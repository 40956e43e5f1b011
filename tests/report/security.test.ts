import {createHash} from "node:crypto";
import {expect, it} from "vitest";
import {security} from "../../lib/report/security.ts";

const hash = (text: string) => `sha256-${createHash("sha256").update(text).digest("base64")}`;

it("security({styleHash}) allows the page’s own style and nothing else", () => {
  const parts = security({styleHash: hash("a")}).split("; ");
  expect(parts).toContain("default-src 'none'");
  expect(parts).toContain(`style-src-elem '${hash("a")}'`);
  expect(parts).toEqual(expect.arrayContaining(["img-src data:", "base-uri 'none'", "form-action 'none'"]));
  expect(parts.some((part) => part.startsWith("script-src") || part.startsWith("connect-src"))).toBe(false);
});

it("security({styleHash, scriptHash}) allows that one script", () => {
  expect(security({styleHash: hash("a"), scriptHash: hash("b")})).toContain(`script-src '${hash("b")}'`);
});

it("security({styleHash, scriptHashes}) allows each of them and no other; each must be a hash", () => {
  expect(security({styleHash: hash("a"), scriptHashes: [hash("b"), hash("c")]}).split("; ")).toContain(
    `script-src '${hash("b")}' '${hash("c")}'`
  );
  expect(() => security({styleHash: hash("a"), scriptHashes: [hash("b"), "'unsafe-inline'"]})).toThrow(
    "security: scriptHash must be sha256- and 44 characters of base64"
  );
});

it.each(["", "sha256-abc", "'unsafe-inline'", `${hash("a")}'; script-src *`])(
  "security({styleHash: %j}) throws",
  (styleHash) => {
    expect(() => security({styleHash})).toThrow("security: styleHash must be sha256- and 44 characters of base64");
  }
);
