import {figureStyle} from "./style/figure.ts";
import {frameStyle} from "./style/frame.ts";
import {mediaStyle} from "./style/media.ts";
import {scriptStyle} from "./style/script.ts";
import {tableStyle} from "./style/table.ts";
import {textStyle} from "./style/text.ts";
import {whatIfStyle} from "./style/whatIf.ts";
import {dark, declarations, light} from "./tokens.ts";

/**
 * The one style sheet of all pages: the same text every time, so that one hash in the page's security policy covers it.
 * Colours follow the reader's light or dark setting; paper is always light.
 */
export const style: string = `:root { color-scheme: light dark; ${declarations(light)} }
@media screen and (prefers-color-scheme: dark) { :root { ${declarations(dark)} } }
${frameStyle}${textStyle}${figureStyle}${tableStyle}${scriptStyle}${whatIfStyle}${mediaStyle}`;
