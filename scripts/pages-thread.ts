import {parentPort} from "node:worker_threads";
import {keptBefore} from "./io/keptReports.ts";
import {notebookList} from "./io/notebookList.ts";
import {makeReport} from "./pages/makeReport.ts";
import type {Asked} from "./pagesThread.ts";

// The other end of `PagesThread`: makes the reports asked for, one message each, until the last has been asked for.
void inThread();

async function inThread(): Promise<void> {
  const {draw} = await import("./draw.ts");
  parentPort!.on("message", async (asked: Asked | "done") => {
    if (asked === "done") return parentPort!.close();
    const {names, read, folder} = asked;
    const beside = {
      draw,
      notebooks: notebookList(folder),
      keptBefore: (workshop: string, day: string) => keptBefore(folder, workshop, day)
    };
    for (const name of names) {
      const report = await makeReport(name, read, beside);
      // What draws a figure is a function, and stays here.
      parentPort!.postMessage({...report, figures: []});
    }
  });
}
