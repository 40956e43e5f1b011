import {command, tell} from "./command.ts";
import {faultLines} from "./faultLines.ts";

await command(
  {name: "check", description: "Every fault of the book, listed; no report is made.", writes: false},
  ({problems}, {json}) => {
    if (json) tell(JSON.stringify({problems}, undefined, 1));
    else for (const line of faultLines(problems)) tell(line);
    if (!json && problems.length === 0) tell("Nothing to mend: every row was read and used.");
  }
);
