import {mkdirSync, renameSync, symlinkSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {describe, expect, test} from "vitest";
import {whenSaved} from "../../../scripts/live/whenSaved.ts";
import {folderOf} from "../run.ts";

/** Every call, in order, and ways to wait for so many, or for so many files. */
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
    seen: () => [...new Set(calls.flat())].sort(),
    until: async (done: () => boolean) => {
      while (!done())
        await new Promise<void>((woken) => {
          wake = woken;
        });
    }
  };
}

const timeout = 60_000;

describe("whenSaved(files, call)", () => {
  test("calls at once, after a save, one made by putting a new file in its place too, and goes on after a fault", {
    timeout
  }, async () => {
    const folder = folderOf({"lots.csv": "a", "events.csv": "a"});
    const {calls, seen, call, until} = recorder(() => calls.length === 2);
    await whenSaved({book: folder, except: join(folder, "none")}, call);
    expect(calls).toEqual([[]]);
    writeFileSync(join(folder, "lots.csv"), "b");
    await until(() => calls.length >= 2);
    writeFileSync(join(folder, "new"), "c");
    renameSync(join(folder, "new"), join(folder, "events.csv"));
    await until(() => seen().includes(join(folder, "events.csv")));
    expect(calls[1]).toEqual([join(folder, "lots.csv")]);
  });

  test("calls for what was saved during the first call, once that is done", {timeout}, async () => {
    const folder = folderOf({"lots.csv": "a"});
    const {calls, call, until} = recorder();
    let running = false;
    const first = whenSaved({book: folder, except: join(folder, "none")}, async (changed) => {
      expect(running).toBe(false);
      running = true;
      if (changed.size === 0) {
        writeFileSync(join(folder, "lots.csv"), "b");
        await new Promise((later) => setTimeout(later, 500)); // longer than saves are gathered
      }
      running = false;
      await call(changed);
    });
    await first;
    await until(() => calls.length >= 2);
    expect(calls).toEqual([[], [join(folder, "lots.csv")]]);
  });

  test("throws what the first call throws, and looks no longer", {timeout}, async () => {
    const folder = folderOf({"lots.csv": "a"});
    const failing = whenSaved({book: folder, except: join(folder, "none")}, () => Promise.reject(new Error("broken")));
    await expect(failing).rejects.toThrow("broken");
    const missing = whenSaved({book: join(folder, "none"), except: folder}, async () => {});
    await expect(missing).rejects.toThrow("--book must be a folder or a workbook that exists");
  });

  test("leaves alone where the pages are written, inside what is looked at too, and by another name", {
    timeout
  }, async () => {
    const folder = folderOf({"book/lots.csv": "a", "notes/x.ts": "a", "notes/out/index.html": "a"});
    const out = join(folder, "notes", "out");
    const link = join(folderOf({}), "link");
    symlinkSync(out, link, "junction");
    for (const except of [out, link]) {
      const {seen, call, until} = recorder();
      await whenSaved({book: join(folder, "book"), paths: [join(folder, "notes")], except}, call);
      writeFileSync(join(out, "index.html"), "b");
      mkdirSync(join(out, "tables"), {recursive: true});
      writeFileSync(join(folder, "notes", "x.ts"), "b");
      await until(() => seen().length >= 1);
      expect(seen()).toEqual([join(folder, "notes", "x.ts")]);
    }
  });

  test("looks at a book that lies where the pages are written", {timeout}, async () => {
    const out = folderOf({"book/lots.csv": "a", "index.html": "a"});
    const {seen, call, until} = recorder();
    await whenSaved({book: join(out, "book"), except: out}, call);
    writeFileSync(join(out, "index.html"), "b");
    writeFileSync(join(out, "book", "lots.csv"), "b");
    await until(() => seen().length >= 1);
    expect(seen()).toEqual([join(out, "book", "lots.csv")]);
  });

  test("looks, with a workbook, at what is read beside it and at nothing else", {timeout}, async () => {
    const folder = folderOf({"stock.xlsx": "a", "other.xlsx": "a", "workshop.json": "{}", "deep/stock.xlsx": "a"});
    const {seen, call, until} = recorder();
    await whenSaved({book: join(folder, "stock.xlsx"), except: join(folder, "out")}, call);
    for (const name of [
      "other.xlsx",
      "~$stock.xlsx",
      "deep/stock.xlsx",
      "mended-lots.csv",
      "workshop.json",
      "stock.xlsx"
    ])
      writeFileSync(join(folder, name), "b");
    await until(() => seen().length >= 3);
    expect(seen()).toEqual(["mended-lots.csv", "stock.xlsx", "workshop.json"].map((name) => join(folder, name)));
  });

  test("leaves alone what a program puts beside an open file, and folders of the book, but looks into other folders", {
    timeout
  }, async () => {
    const folder = folderOf({"book/lots.csv": "a", "book/old/lots.csv": "a", "notes/deep/x.ts": "a"});
    const {seen, call, until} = recorder();
    await whenSaved({book: join(folder, "book"), paths: [join(folder, "notes")], except: join(folder, "out")}, call);
    for (const name of ["book/.~lock.lots.csv#", "book/~$lots.xlsx", "book/old/lots.csv", "notes/deep/x.ts"])
      writeFileSync(join(folder, name), "b");
    await until(() => seen().length >= 1);
    expect(seen()).toEqual([join(folder, "notes/deep/x.ts")]);
  });
});
