import {mkdirSync, renameSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {expect, test} from "vitest";
import {whenSaved} from "../../../scripts/live/whenSaved.ts";
import {folderOf} from "../run.ts";

/** Every call, in order, and a way to wait for so many. */
function recorder(fail = () => false) {
  const calls: string[][] = [];
  let wake = () => {};
  return {
    calls,
    call: async (changed: ReadonlySet<string>) => {
      calls.push([...changed].sort());
      wake();
      if (fail()) throw new Error("broken");
    },
    until: async (count: number) => {
      while (calls.length < count)
        await new Promise<void>((done) => {
          wake = done;
        });
    }
  };
}

test("whenSaved(files, call) calls after a save, one made by putting a new file in its place too, and goes on after a fault", {
  timeout: 60_000
}, async () => {
  const folder = folderOf({"lots.csv": "a", "events.csv": "a"});
  const {calls, call, until} = recorder(() => calls.length === 1);
  await whenSaved({paths: [folder], except: join(folder, "none")}, call);
  writeFileSync(join(folder, "lots.csv"), "b");
  await until(1);
  writeFileSync(join(folder, "new"), "c");
  renameSync(join(folder, "new"), join(folder, "events.csv"));
  await until(2);
  expect(calls[0]).toEqual([join(folder, "lots.csv")]);
  expect(calls.slice(1).flat()).toContain(join(folder, "events.csv"));
});

test("whenSaved(files, call) leaves alone where the pages are written, inside the book too", {
  timeout: 60_000
}, async () => {
  const folder = folderOf({"lots.csv": "a", "out/index.html": "a"});
  const {calls, call, until} = recorder();
  await whenSaved({paths: [folder], except: join(folder, "out")}, call);
  writeFileSync(join(folder, "out", "index.html"), "b");
  mkdirSync(join(folder, "out", "tables"));
  writeFileSync(join(folder, "lots.csv"), "b");
  await until(1);
  expect(calls).toEqual([[join(folder, "lots.csv")]]);
});

test("whenSaved(files, call) looks at a book that lies where the pages are written", {timeout: 60_000}, async () => {
  const out = folderOf({"book/lots.csv": "a", "index.html": "a"});
  const {calls, call, until} = recorder();
  await whenSaved({paths: [join(out, "book")], except: out}, call);
  writeFileSync(join(out, "index.html"), "b");
  writeFileSync(join(out, "book", "lots.csv"), "b");
  await until(1);
  expect(calls).toEqual([[join(out, "book", "lots.csv")]]);
});

test("whenSaved(files, call) looks at one file only where one is named, such as a workbook", {
  timeout: 60_000
}, async () => {
  const folder = folderOf({"stock.xlsx": "a", "other.txt": "a"});
  const {calls, call, until} = recorder();
  await whenSaved({paths: [join(folder, "stock.xlsx")], except: join(folder, "out")}, call);
  writeFileSync(join(folder, "other.txt"), "b");
  writeFileSync(join(folder, "stock.xlsx"), "b");
  await until(1);
  expect(calls).toEqual([[join(folder, "stock.xlsx")]]);
});
