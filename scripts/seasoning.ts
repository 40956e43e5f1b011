import {command} from "./command.ts";
import {writeReports} from "./writeReports.ts";

await command(
  {
    name: "seasoning",
    description:
      "The seasoning report: what a rest takes off, what is lost in it, and what hurry or a longer rest costs."
  },
  async (read, options) => {
    await writeReports(["seasoning"], read, options);
  }
);
