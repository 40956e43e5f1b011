import type {RowsCounted} from "../../lib/book/bookCounts.ts";
import {shown} from "../../lib/report/quantity.ts";

/** Where so many rows of a file are missing, as a fraction of 1, the figures may be others altogether. */
const much = 0.02;

/** That much of a file is in no figure, said of the one of which most is; nothing where it is not much. */
export function muchMissing(files: readonly RowsCounted[]): string[] {
  const share = ({rows, setAside}: RowsCounted) => (rows === 0 ? 0 : setAside / rows);
  const [worst] = files.toSorted((a, b) => share(b) - share(a));
  if (!worst || share(worst) < much) return [];
  const {workshop, file, rows, setAside} = worst;
  const whose = workshop === undefined ? "" : `${workshop}’s `;
  return [
    `Much is missing: ${shown(setAside, "count")} of ${shown(rows, "count")} rows of ${whose}${file} were set aside for faults and are in no figure here. Do not decide by them before the rows are mended; npm run check tells how.`
  ];
}
