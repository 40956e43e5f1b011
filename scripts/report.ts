import {resolve} from "node:path";
import {command, relative, tell} from "./command.ts";
import {notebookList} from "./io/notebookList.ts";
import {writeReport} from "./io/writeReport.ts";
import {indexPage} from "./pages/index.ts";
import {writeReports} from "./writeReports.ts";

await command({name: "report", description: "All reports, with an index page."}, async (read, options) => {
  const reports = await writeReports(["monthly", "suppliers", "season"], read, options);
  const path = writeReport(
    resolve(options.out),
    "index.html",
    indexPage(read, reports, notebookList(resolve(options.out)))
  );
  if (!options.json) tell(relative(path));
});
