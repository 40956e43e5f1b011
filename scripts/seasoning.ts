import {command, tell} from "./command.ts";
import {writeReports} from "./writeReports.ts";

void command(
  {
    name: "seasoning",
    description:
      "The seasoning report: what a rest takes off, what is lost in it, and what hurry or a longer rest costs."
  },
  async (read, options) => {
    const [report] = await writeReports(["seasoning"], read, options);
    if (!options.json) for (const point of report!.data.lead) tell(point);
  }
);
