import {command} from "./command.ts";
import {writeReports} from "./writeReports.ts";

void command(
  {name: "yard-card", description: "A sheet to take to the yard: between which weights a square is worth buying."},
  async (read, options) => {
    await writeReports(["yard-card"], read, options);
  }
);
