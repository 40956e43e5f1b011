import jsqr from "jsqr";

// The package is one function, which its types call the default of a module.
const read = jsqr as unknown as typeof jsqr.default;

/** What a QR code in a picture says, by a library that did not draw it; undefined where it finds none. Pixels are red, green, blue, opacity. */
export function readCode(pixels: Uint8ClampedArray, width: number, height: number): string | undefined {
  return read(pixels, width, height)?.data;
}
