import {command, tell} from "./command.ts";
import {writeReports} from "./writeReports.ts";

void command(
  {
    name: "rack",
    description: "Today's list: what may be turned, what to weigh first, and which shaft for which order."
  },
  async (read, options) => {
    const {rackToday} = await import("./rack/rackToday.ts");
    const {rackLines} = await import("./rack/rackLines.ts");
    if (!options.json) for (const line of rackLines(rackToday(read), read)) tell(line);
    await writeReports(["rack"], read, options);
  }
);
