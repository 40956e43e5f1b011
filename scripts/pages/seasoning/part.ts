import type {Html} from "../../../lib/report/html.ts";
import type {KeyFigure} from "../../../lib/report/keyFigures.ts";

/** One section of the seasoning report, and what it gives to the main points. */
export interface Part {
  id: string;
  heading: string;
  points: string[];
  key: KeyFigure[];
  body: Html[];
}
