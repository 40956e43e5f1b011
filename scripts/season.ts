import {command} from "./command.ts";
import {writeReports} from "./writeReports.ts";

await command(
  {name: "season", description: "The season's buying report: how many squares, of whom, by when."},
  async (read, options) => {
    await writeReports(["season"], read, options);
  }
);
