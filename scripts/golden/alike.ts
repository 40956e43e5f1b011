/** How far a coordinate may move and the drawing still be the same, px: more than the last digit of any machine, less than anyone sees. */
const slack = 0.5;

/** An attribute that holds coordinates. Sizes of dots, lines and letters, colours and opacities are none: they are chosen, not worked out. */
const coordinates = /((?<=<[^>]*) (?:d|transform|points|[cd]?[xy][12]?|width|height)="[^"]*")/;

/** A number in px, captured; a number of em is a choice too. */
const pixels = /(-?\d+(?:\.\d+)?)(?![\d.]*em)/;

/**
 * Whether two drawings look the same: the same elements, texts and looks, and every coordinate within half a pixel, as machines differ in
 * the last digit of a sine.
 */
export function alike(a: string, b: string): boolean {
  const [left, right] = [pieces(a), pieces(b)];
  return left.length === right.length && left.every((piece, i) => near(piece, right[i]!));
}

/** The drawing cut at its coordinates: numbers are those, texts all between. */
function pieces(svg: string): (string | number)[] {
  return svg
    .split(coordinates)
    .flatMap((part, i) =>
      i % 2 === 0 ? [part] : part.split(pixels).map((piece, j) => (j % 2 === 0 ? piece : Number(piece)))
    );
}

function near(a: string | number, b: string | number): boolean {
  return a === b || (typeof a === "number" && typeof b === "number" && Math.abs(a - b) <= slack);
}
