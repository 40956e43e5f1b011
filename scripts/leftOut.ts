import type {BookParsed} from "../lib/book/parseBook.ts";
import type {Event} from "../lib/book/records.ts";
import {type RowAccount, rowAccounts} from "../lib/book/rowAccount.ts";
import {counted} from "./faultLines.ts";
import {type ReportName, recordsOf, reportNames} from "./pages/reportNames.ts";

/** What a report would leave out of a book, one line a thing; none where it would use every row and nothing is missing. */
export interface LeftOut {
  report: ReportName;
  title: string;
  lines: string[];
}

/**
 * What each report would leave out: rows that were refused, and what it could say if the book had more in it.
 *
 * @param parsed the book with the faults of its rows and of its histories
 */
export function leftOut(parsed: BookParsed, accounts: readonly RowAccount[] = rowAccounts(parsed)): LeftOut[] {
  const {book} = parsed;
  return (Object.keys(recordsOf) as ReportName[]).map((report) => {
    const lines = accounts
      .filter(({name, refused}) => recordsOf[report].includes(name) && refused > 0)
      .map(({file, read, notData, refused}) => `${refused} of ${counted(read - notData, "row")} of ${file}`);
    return {
      report,
      title: reportNames[report],
      lines: book
        ? [...lines, ...missing[report]({...book, isAny: anyEvent(parsed)})]
        : ["the whole report: the book cannot be used as it is"]
    };
  });
}

type Book = NonNullable<BookParsed["book"]>;

/** A book, and whether any of its events is as asked. */
interface Asked extends Omit<Book, "squares" | "events"> {
  isAny: (isSo: (event: Event) => boolean) => boolean;
}

function anyEvent({book, columns}: BookParsed): Asked["isAny"] {
  if (!columns) return (isSo) => book!.events.some(isSo);
  const {sound, event} = columns.events;
  return (isSo) => sound.some((place) => isSo(event(place)));
}

const missing: Record<ReportName, (book: Asked) => string[]> = {
  monthly: ({climate, isAny}) => [
    ...(climate.length === 0 ? ["how dry the air of the store is: climate.csv has no readings"] : []),
    ...(isAny(({massG}) => massG !== undefined) ? [] : ["moisture lost at each rest: no event has a mass"])
  ],
  suppliers: ({lots}) => carriage(lots),
  season: ({lots, orders, isAny}) => {
    const priceless = orders.filter(({priceEach}) => priceEach === undefined).length;
    return [
      ...carriage(lots),
      ...(orders.length === 0 ? ["demand: orders.csv has no orders"] : []),
      ...(orders.length > 0 && !isAny(({event}) => event === "delivered" || event === "allotted")
        ? ["which orders are filled: no event says allotted or delivered, so every order counts as open"]
        : []),
      ...(priceless > 0
        ? [
            `the price of ${counted(priceless, "order")} that ${priceless === 1 ? "gives" : "give"} none: the median of the others, else money.shaftPrice, stands for it`
          ]
        : [])
    ];
  },
  seasoning: ({settings, climate, isAny}) => [
    ...(climate.length === 0 && settings.store.moisturePct === undefined
      ? [
          "how near rests end to the store's moisture, and how fast pieces dry: climate.csv has no readings, and the settings no store.moisturePct"
        ]
      : []),
    ...(isAny(({massG}) => massG !== undefined)
      ? []
      : ["moisture lost at each rest, and how fast pieces dry: no event has a mass"])
  ],
  rack: ({settings, climate, isAny, orders}) => [
    ...(climate.length === 0 && settings.store.moisturePct === undefined
      ? [
          "how near pieces are to the store's moisture: climate.csv has no readings, and the settings no store.moisturePct"
        ]
      : []),
    ...(isAny(({massG}) => massG !== undefined) ? [] : ["whether a mass is steady: no event has a mass"]),
    ...(orders.length === 0 ? ["which shaft for which order: orders.csv has no orders"] : []),
    ...(settings.bendTest === undefined && isAny(({deflectionMm}) => deflectionMm !== undefined)
      ? ["stiffness from the deflections read: the settings have no bendTest"]
      : [])
  ],
  "yard-card": () => []
};

function carriage(lots: Book["lots"]): string[] {
  const without = lots.filter((lot) => lot.carriage === undefined).length;
  return without === 0
    ? []
    : [`the carriage of ${counted(without, "lot")} that ${without === 1 ? "gives" : "give"} none`];
}
