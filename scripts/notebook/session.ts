import type {BookAsOf} from "../io/readBook.ts";
import {consoleText} from "./consoleText.ts";
import type {ShowOptions} from "./shown.ts";

/** Who is told what a running notebook does. */
export interface Listener {
  /** A cell begins; the notebook goes on when the promise is kept. */
  cell(number: number): Promise<void>;
  shown(value: unknown, options: ShowOptions): void;
  opened(read: BookAsOf): void;
}

/** Without a runner a notebook speaks to the console, and only of what it shows. */
let listener: Listener = {
  cell: () => Promise.resolve(),
  shown: (value, options) => console.log(consoleText(value, options)),
  opened: () => {}
};

/** From now on `newListener` is told, in place of the console. */
export function listen(newListener: Listener): void {
  listener = newListener;
}

/** Called at the beginning of each cell. */
export const enterCell = (number: number): Promise<void> => listener.cell(number);

/** Called with the value of an expression that ends a cell: shown unless it is undefined. */
export function showValue(value: unknown): void {
  if (value !== undefined) listener.shown(value, {});
}

/** Called by `show`. */
export const tellShown = (value: unknown, options: ShowOptions): void => listener.shown(value, options);

/** Called by `open`. */
export const tellOpened = (read: BookAsOf): void => listener.opened(read);
