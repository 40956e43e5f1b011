import {command} from "./command.ts";
import {writeReports} from "./writeReports.ts";

void command(
  {
    name: "suppliers",
    description: "The supplier comparison: whose density is right, whose is tight, what a shaft costs."
  },
  async (read, options) => {
    await writeReports(["suppliers"], read, options);
  }
);
