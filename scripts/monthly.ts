import {command} from "./command.ts";
import {writeReports} from "./writeReports.ts";

void command(
  {
    name: "monthly",
    description: "The monthly yield report: what went in, what came out, what was lost and to which defect."
  },
  async (read, options) => {
    await writeReports(["monthly"], read, options);
  }
);
