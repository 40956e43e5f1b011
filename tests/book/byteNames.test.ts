import fc from "fast-check";
import {expect, test} from "vitest";
import {ByteNames} from "../../lib/book/byteNames.ts";

const [encoder, decoder] = [new TextEncoder(), new TextDecoder()];

test("ByteNames gives each text its place, the same whenever it comes again", () => {
  fc.assert(
    fc.property(fc.array(fc.string({maxLength: 12, unit: "binary"}), {maxLength: 60}), (texts) => {
      const names = new ByteNames((bytes) => decoder.decode(bytes));
      const first = [...new Set(texts)];
      for (const text of texts) {
        const bytes = encoder.encode(`,${text},`);
        expect(names.place(bytes, 1, bytes.length - 1)).toBe(first.indexOf(text));
      }
      expect(names.names).toEqual(first.map((text) => decoder.decode(encoder.encode(text))));
    })
  );
});

test("ByteNames holds more texts than it began with room for", () => {
  const names = new ByteNames((bytes) => decoder.decode(bytes));
  for (const round of [0, 1])
    for (let i = 0; i < 5000; i++) {
      const bytes = encoder.encode(`A${String(i).padStart(7, "0")}`);
      expect(names.place(bytes, 0, bytes.length), `round ${round}`).toBe(i);
    }
});
