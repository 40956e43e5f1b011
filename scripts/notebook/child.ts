import * as module from "node:module";
import {fileURLToPath} from "node:url";
import {inspect} from "node:util";
import {htmlText} from "../../lib/report/html.ts";
import type {SourceFile} from "../../lib/report/provenance.ts";
import {BookError} from "./book.ts";
import type {Fault} from "./cells.ts";
import * as hook from "./hook.ts";
import {outputs} from "./outputs.ts";
import {listen} from "./session.ts";

// Runs one notebook in a process of its own and tells the parent what happens. Started by runNotebook.ts.

/** What the parent hears. */
export type Message =
  | {kind: "cell"; number: number}
  | {kind: "shown"; cell: number; html: string}
  | {kind: "opened"; workshop: string; asOf: string; files: SourceFile[]; settings: {name: string; value: string}[]}
  | {kind: "fault"; fault: Fault; bookFault: boolean}
  | {kind: "done"};

process.channel?.unref(); // a notebook has ended when nothing more is to come, whatever the parent may say
process.on("disconnect", () => process.exit());
process.once("message", run);

function tell(message: Message): Promise<void> {
  return new Promise((kept) => process.send!(message, () => kept()));
}

async function run(standin: hook.Standin): Promise<void> {
  process.channel?.unref();
  let cell: number | undefined;
  let failed = false;
  const fail = async (error: unknown) => {
    if (failed) return;
    failed = true;
    await tell({
      kind: "fault",
      fault: {...faultOf(error, standin), ...(cell !== undefined && {cell})},
      bookFault: error instanceof BookError
    });
    process.exit();
  };
  process.on("uncaughtException", fail);
  process.once("beforeExit", () => tell({kind: "done"}).then(() => process.exit()));
  const toHtml = outputs();
  listen({
    cell: (number) => {
      cell = number;
      return tell({kind: "cell", number});
    },
    shown: (value, options) => void tell({kind: "shown", cell: cell ?? 1, html: htmlText(toHtml.html(value, options))}),
    opened: ({book, asOf, sources}) => {
      const {name, season, accuracy: a, money} = book.settings;
      toHtml.currency = money.currency;
      const accuracy = `scale ${a.scaleG} g, calliper ${a.calliperMm} mm, tape ${a.tapeMm} mm, meter ${a.meterPct} %`;
      const settings = [
        {name: "Season begins", value: season.startsOn},
        {name: "Accuracy", value: accuracy}
      ];
      void tell({kind: "opened", workshop: name, asOf, files: sources, settings});
    }
  });
  standIn(standin);
  await import(standin.url).catch(fail);
}

/** Node from 22.15 on has hooks that run here and lets the older ones, which run in a thread, go out of use. */
function standIn(standin: hook.Standin): void {
  const {registerHooks} = module as unknown as {registerHooks?: (hooks: {load: typeof hook.load}) => void};
  hook.initialize(standin);
  if (registerHooks) registerHooks({load: hook.load});
  else module.register("./hook.ts", {parentURL: import.meta.url, data: standin});
}

/** An error in words, with the lines of the notebook that its stack names. */
function faultOf(error: unknown, {url}: hook.Standin): Fault {
  if (!(error instanceof Error)) return {message: `Thrown: ${inspect(error)}`, lines: []};
  const message = error.name === "Error" ? error.message : `${error.name}: ${error.message}`;
  const place = [url, fileURLToPath(url)].map((one) => one.replace(/[\\^$.*+?()[\]{}|]/g, "\\$&")).join("|");
  const stack = error.stack ?? "";
  const unlinked = new RegExp(`^(?:${place}):(\\d+)\\n`).exec(stack)?.[1]; // found wrong before the code ran
  const frames = [...stack.matchAll(new RegExp(`^ +at .*?(?:${place}):(\\d+):\\d+\\)?$`, "gm"))].map(([, line]) =>
    Number(line)
  );
  return {message, lines: unlinked === undefined ? frames : [Number(unlinked)]};
}
