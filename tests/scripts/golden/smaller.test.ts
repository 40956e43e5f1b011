import {deflateSync, inflateSync} from "node:zlib";
import {expect, it} from "vitest";
import {chunk, chunks, pngOf} from "../../../scripts/golden/pngChunks.ts";
import {smaller} from "../../../scripts/golden/smaller.ts";
import {describeInBrowser} from "../../browser/needsBrowser.ts";

// Two pixels wide, a row for each way that W3C PNG 9.2 has to write a row as differences: none, left, up, mean, Paeth.
const differences = [
  [0, 10, 20, 30, 40, 50, 60],
  [1, 1, 2, 3, 1, 1, 1],
  [2, 250, 0, 1, 255, 1, 1],
  [3, 0, 1, 2, 0, 0, 0],
  [4, 1, 1, 1, 0, 0, 0]
];
/** The same rows worked out by hand from the definitions. */
const pixels = [
  [0, 10, 20, 30, 40, 50, 60],
  [0, 1, 2, 3, 2, 3, 4],
  [0, 251, 2, 4, 1, 4, 5],
  [0, 125, 2, 4, 63, 3, 4],
  [0, 126, 3, 5, 63, 3, 5]
];

/** A PNG of rows two pixels wide; its data in two parts, as a PNG may have them. */
function pngOfRows(rows: readonly number[][], {depth = 8, colour = 2, interlace = 0} = {}): Buffer {
  const header = Buffer.from([0, 0, 0, 2, 0, 0, 0, rows.length, depth, colour, 0, 0, interlace]);
  const data = deflateSync(Buffer.from(rows.flat()));
  const parts = [data.subarray(0, 9), data.subarray(9)].map((part) => chunk("IDAT", part));
  return pngOf([chunk("IHDR", header), ...parts, chunk("IEND", Buffer.alloc(0))]);
}

it("smaller(png) writes the pixels as they are, in one part", () => {
  const all = chunks(smaller(pngOfRows(differences)), "here");
  expect(all.map(({type}) => type)).toEqual(["IHDR", "IDAT", "IEND"]);
  expect([...inflateSync(all[1]!.data)]).toEqual(pixels.flat());
});

it.each([{depth: 16}, {colour: 3}, {interlace: 1}])("smaller(png) of another kind is refused: %o", (kind) => {
  expect(() => smaller(pngOfRows(differences, kind))).toThrow("smaller: png must be 8 bits a channel in colour, got");
});

describeInBrowser("smaller(png), by a browser's own decoder", (browser) => {
  it.each([true, false])("has the pixels it had, and fewer bytes (ground left out: %s)", async (omitBackground) => {
    const page = await browser().newPage({viewport: {width: 300, height: 200}});
    try {
      await page.setContent(
        `<html style="background:none"><body><h1>Pixels</h1><p style="width:200px;height:60px;background:linear-gradient(45deg,red,#00f8)">and words on them</p>${"<p>one line as another</p>".repeat(40)}`
      );
      const before = await page.screenshot({omitBackground, fullPage: true});
      const after = smaller(before);
      expect(chunks(before, "before")[0]!.data[9]).toBe(omitBackground ? 6 : 2);
      const [a, b] = await page.evaluate(
        (urls) =>
          Promise.all(
            urls.map(async (src) => {
              const image = new Image();
              image.src = src;
              await image.decode();
              const {width, height} = image;
              const context = Object.assign(document.createElement("canvas"), {width, height}).getContext("2d")!;
              context.drawImage(image, 0, 0);
              return context.getImageData(0, 0, width, height).data.join();
            })
          ),
        [before, after].map((png) => `data:image/png;base64,${Buffer.from(png).toString("base64")}`)
      );
      expect(new Set(a!.split(",")).size).toBeGreaterThan(50);
      expect(b === a, "the same pixels").toBe(true);
      expect(after.length).toBeLessThan(before.length);
    } finally {
      await page.close();
    }
  });
});
