import {type Cell, cellOfLine, type Fault} from "./cells.ts";

/** Where a fault is and what, as "Cell 3, line 22, called from line 30: …". */
export function faultText({message, lines, cell}: Fault, cells: readonly Cell[]): string {
  const [line, ...callers] = [...new Set(lines)];
  const number = line === undefined ? cell : cellOfLine(cells, line);
  const place = [
    number !== undefined && `Cell ${number}`,
    line !== undefined && `line ${line}`,
    callers.length > 0 && `called from line ${callers.join(", from line ")}`
  ]
    .filter((part) => part !== false)
    .join(", ");
  return place === "" ? message : `${place[0]!.toUpperCase()}${place.slice(1)}: ${message}`;
}
