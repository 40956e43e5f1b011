import {createHash} from "node:crypto";
import {expect, test} from "vitest";
import {type Ran, run} from "./run.ts";

/** Each file written with the hash of its bytes. */
const hashes = ({written}: Ran) =>
  Object.fromEntries([...written].map(([name, text]) => [name, createHash("sha256").update(text).digest("hex")]));

test("the same book gives the same bytes on any machine, time zone and locale", {timeout: 600_000}, async () => {
  const [here, elsewhere] = await Promise.all([
    run("report", [], {TZ: "UTC", LANG: "C", LC_ALL: "C"}),
    run("report", [], {TZ: "Pacific/Auckland", LANG: "de_DE.UTF-8", LC_ALL: "de_DE.UTF-8"})
  ]);
  expect([here!.code, elsewhere!.code]).toEqual([0, 0]);
  expect([...here!.written.keys()]).toEqual(
    expect.arrayContaining(["index.html", "monthly.html", "suppliers.html", "season.html", "monthly.json"])
  );
  expect(hashes(elsewhere!)).toEqual(hashes(here!));
});
