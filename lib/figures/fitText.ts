import {check} from "../check.ts";
import {textWidth} from "../report/textWidth.ts";

/**
 * A label that is to stand within a drawing, cut with “…” where it would be wider than there is room, so that a long name cannot
 * push the drawing aside. By the estimate of `textWidth`; whole characters, at least the first. The table keeps the whole.
 *
 * @param width room, px
 * @param fontSize px
 * @throws RangeError unless width and fontSize are above 0
 * @example fitText("Haskerdene Mill", 60, 12) // "Haskerd…"
 */
export function fitText(text: string, width: number, fontSize: number): string {
  check(width > 0, "fitText: width", "above 0 px", width);
  check(fontSize > 0, "fitText: fontSize", "above 0 px", fontSize);
  const line = text.replace(/\s+/gu, " ");
  if (textWidth(line, fontSize) <= width) return line;
  const characters = [...line];
  const cut = (count: number) => `${characters.slice(0, count).join("").trimEnd()}…`;
  let count = characters.length - 1;
  while (count > 1 && textWidth(cut(count), fontSize) > width) count--;
  return cut(count);
}

/** Most words in the title of a figure. */
const titleWords = 10;

/** The title, or a plainer one where long names make it longer than ten words. */
export function fitTitle(title: string, plain: string): string {
  return title.split(/\s+/u).length > titleWords ? plain : title;
}
