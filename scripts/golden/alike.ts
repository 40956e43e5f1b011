/** How far a coordinate may move and the drawing still be the same, px: more than the last digit of any machine, less than anyone sees. */
const slack = 0.5;

/**
 * Whether two drawings look the same: the same elements, texts and colours, and every coordinate within half a pixel, as machines differ in
 * the last digit of a sine.
 */
export function alike(a: string, b: string): boolean {
  const [left, right] = [pieces(a), pieces(b)];
  return (
    left.length === right.length &&
    left.every((piece, i) => {
      const other = right[i]!;
      if (piece === other) return true;
      const [x, y] = [Number(piece), Number(other)];
      return piece !== "" && other !== "" && Math.abs(x - y) <= slack;
    })
  );
}

/** Tags taken apart at their numbers; what stands between tags is whole. */
function pieces(svg: string): string[] {
  return svg
    .split(/(<[^>]*>)/)
    .flatMap((part) => (part.startsWith("<") ? part.split(/(-?\d+(?:\.\d+)?)/) : [`text ${part}`]));
}
