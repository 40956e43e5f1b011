import {expect, it} from "vitest";
import {style} from "../../../lib/report/style.ts";
import {policyHash, styleHash} from "../../../scripts/io/policyHash.ts";

it("policyHash is as the Content Security Policy standard gives it (W3C, CSP Level 2, example of a script hash; from memory)", () => {
  expect(policyHash("alert('Hello, world.');")).toBe("sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng=");
});

it("styleHash is that of the sheet that pages carry", () => {
  expect(styleHash).toBe(policyHash(style));
});
