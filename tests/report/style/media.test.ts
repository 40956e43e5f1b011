import {expect, it} from "vitest";
import {mediaStyle} from "../../../lib/report/style/media.ts";

const print = mediaStyle.slice(mediaStyle.indexOf("@media print"));

it("paper is A4 with numbered pages", () => {
  expect(mediaStyle).toMatch(/@page \{\s*size: A4;/);
  expect(mediaStyle).toMatch(/content: counter\(page\) " \/ " counter\(pages\)/);
});

it("print leaves out what only a screen can use, and cuts no figure and no row", () => {
  expect(print).toMatch(/\.skip, \.contents, \.others, \.csv, \.leads, details:not\(\[open\]\) \{ display: none; \}/);
  expect(/^.*break-inside: avoid.*$/m.exec(print)![0]).toMatch(/h2.*figure.*tr /);
  expect(/^.*break-after: avoid.*$/m.exec(print)![0]).toMatch(/h2.*\.subtitle.*\.key/);
});

it("forced colours take the reader’s own for text and ground, and leave the classes of a drawing", () => {
  const forced = /@media \(forced-colors: active\) \{([\s\S]*?)\n\}/.exec(mediaStyle)![1]!;
  expect(forced).toContain("--ground: Canvas");
  expect(forced).toMatch(/\.drawing, \.key svg \{ forced-color-adjust: none/);
});
