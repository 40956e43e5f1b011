import fc from "fast-check";
import {JSDOM} from "jsdom";
import {expect, test} from "vitest";
import {htmlText} from "../../../lib/report/html.ts";
import {qrCode} from "../../../scripts/pages/qrCode.ts";
import {readCode} from "../../readCode.ts";

/** The drawing as a browser gets it. */
function drawn(text: string) {
  const code = qrCode(text, `QR code of ${text}`)!;
  const {document} = new JSDOM(htmlText(code.svg)).window;
  return {...code, svg: document.querySelector("svg")!};
}

/** What another library reads from the path that is drawn, at so many pixels a module. */
function readBack(text: string, scale = 3): string | undefined {
  const {svg, modules} = drawn(text);
  const side = modules * scale;
  const pixels = new Uint8ClampedArray(4 * side * side).fill(255);
  for (const [, x, y, length] of svg
    .querySelectorAll("path")[1]!
    .getAttribute("d")!
    .matchAll(/M(\d+) (\d+)h(\d+)v1h-\d+z/g)) {
    for (let row = Number(y) * scale; row < (Number(y) + 1) * scale; row++)
      for (let column = Number(x) * scale; column < (Number(x) + Number(length)) * scale; column++)
        pixels.fill(0, 4 * (row * side + column), 4 * (row * side + column) + 3);
  }
  return readCode(pixels, side, side);
}

test.each([
  "A0001",
  "L031-07",
  "0007",
  "Ö-9 «ясень» 梣 🪵",
  `A"1'<b>&amp;`,
  "</svg><script>alert(1)</script>",
  "x".repeat(300)
])("qrCode(%j) is read back as it is", (text) => expect(readBack(text)).toBe(text));

test("qrCode is read back whatever the number is", () => {
  const number = fc
    .string({minLength: 1, maxLength: 40, unit: "grapheme"})
    .filter((text) => text.trim() !== "" && !/\p{Cs}/u.test(text));
  fc.assert(
    fc.property(number, (text) => {
      expect(readBack(text)).toBe(text);
    }),
    {numRuns: 100}
  );
});

test("qrCode leaves four light modules on every side, on white, dark in black", () => {
  const {svg, modules} = drawn("A0001");
  const [ground, path] = svg.querySelectorAll("path");
  expect(svg.getAttribute("viewBox")).toBe(`0 0 ${modules} ${modules}`);
  expect(modules).toBe(21 + 8); // version 1 is 21 modules wide: ISO/IEC 18004:2015, 5.3.1; from memory
  expect([ground!.getAttribute("fill"), path!.getAttribute("fill")]).toEqual(["#fff", "#000"]);
  expect(ground!.getAttribute("d")).toBe(`M0 0h${modules}v${modules}h-${modules}z`);
  const runs = [...path!.getAttribute("d")!.matchAll(/M(\d+) (\d+)h(\d+)/g)].map(([, x, y, length]) => [
    Number(x),
    Number(y),
    Number(length)
  ]);
  expect(Math.min(...runs.map(([x]) => x!))).toBe(4);
  expect(Math.min(...runs.map(([, y]) => y!))).toBe(4);
  expect(Math.max(...runs.map(([x, , length]) => x! + length!))).toBe(modules - 4);
  expect(Math.max(...runs.map(([, y]) => y! + 1))).toBe(modules - 4);
});

test("qrCode is still read where a blot hides some of it", () => {
  // Level M mends 15 % of the code words; a blot of 3 × 3 modules beside the finder patterns is well within it.
  const {svg, modules} = drawn("A0001");
  const side = modules * 4;
  const pixels = new Uint8ClampedArray(4 * side * side).fill(255);
  const path = svg.querySelectorAll("path")[1]!.getAttribute("d")!;
  for (const [, x, y, length] of path.matchAll(/M(\d+) (\d+)h(\d+)/g)) {
    for (let row = Number(y) * 4; row < (Number(y) + 1) * 4; row++)
      for (let column = Number(x) * 4; column < (Number(x) + Number(length)) * 4; column++) {
        const blotted = row >= 21 * 4 && row < 24 * 4 && column >= 21 * 4 && column < 24 * 4;
        if (!blotted) pixels.fill(0, 4 * (row * side + column), 4 * (row * side + column) + 3);
      }
  }
  expect(readCode(pixels, side, side)).toBe("A0001");
});

test("qrCode of a text that no code can hold is undefined; 2331 bytes it holds", () => {
  expect(qrCode("x".repeat(2332), "")).toBeUndefined();
  expect(qrCode("é".repeat(1166), "")).toBeUndefined();
  expect(qrCode("x".repeat(2331), "")!.modules).toBe(177 + 8); // version 40 is 177 modules wide; from memory
});

test("qrCode escapes what it is called", () => {
  const {svg} = drawn(`"><script>`);
  expect(svg.getAttribute("aria-label")).toBe(`QR code of "><script>`);
  expect(svg.querySelector("script")).toBeNull();
});
