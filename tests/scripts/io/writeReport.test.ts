import {execFileSync} from "node:child_process";
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync
} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {expect, test} from "vitest";
import {
  keepEdited,
  newFile,
  readFault,
  removeReport,
  UserError,
  writeFault,
  writeReport
} from "../../../scripts/io/writeReport.ts";

const newFolder = () => mkdtempSync(join(tmpdir(), "write-"));

/** Every name below a folder, to see that nothing half written stays. */
const namesIn = (folder: string) => readdirSync(folder, {recursive: true, encoding: "utf8"}).sort();

/** The sentence a user is told. */
function told(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    expect(error).toBeInstanceOf(UserError);
    return (error as UserError).message;
  }
  throw new Error("Nothing was refused.");
}

test.each([
  ["writeReport", writeReport],
  ["newFile", newFile]
])("%s makes folders, writes text as UTF-8 and bytes as they are, and gives the path", (_, write) => {
  const folder = join(newFolder(), "Büro & Werkstatt (2026)");
  const path = write(folder, "tables/Stärke 1.csv", "12 €\r\n");
  expect(path).toBe(join(folder, "tables", "Stärke 1.csv"));
  expect(readFileSync(path).toString("hex")).toBe("313220e282ac0d0a");
  expect([...readFileSync(write(folder, "bytes.xlsx", Uint8Array.of(0, 255, 10)))]).toEqual([0, 255, 10]);
  expect(namesIn(folder)).toEqual(["bytes.xlsx", "tables", join("tables", "Stärke 1.csv")]);
});

test("writeReport puts the new file in the place of the old", () => {
  const folder = newFolder();
  writeReport(folder, "a.html", "old and long");
  writeReport(folder, "a.html", "new");
  expect(readFileSync(join(folder, "a.html"), "utf8")).toBe("new");
  expect(namesIn(folder)).toEqual(["a.html"]);
});

test("newFile leaves what is there as it is, be it a file or a folder", () => {
  const folder = newFolder();
  const path = newFile(folder, "lots.csv", "first");
  expect(told(() => newFile(folder, "lots.csv", "second"))).toBe(
    `${path} is there already and was left as it is. Move it away or choose another name.`
  );
  expect(readFileSync(path, "utf8")).toBe("first");
  mkdirSync(join(folder, "orders.csv"));
  expect(told(() => newFile(folder, "orders.csv", "second"))).toMatch(/orders\.csv is there already/);
  expect(namesIn(folder)).toEqual(["lots.csv", "orders.csv"]);
});

test("a folder in the place of the file is said, and stays", () => {
  const folder = newFolder();
  mkdirSync(join(folder, "a.html", "inner"), {recursive: true});
  expect(told(() => writeReport(folder, "a.html", "text"))).toBe(
    `${join(folder, "a.html")} could not be written (EISDIR): it is a folder, and a file is wanted. Rename the folder or choose another name.`
  );
  expect(namesIn(folder)).toEqual(["a.html", join("a.html", "inner")]);
});

test.each([
  ["writeReport", writeReport],
  ["newFile", newFile]
])("%s says that a part of the path is a file", (_, write) => {
  const folder = newFolder();
  writeFileSync(join(folder, "reports"), "a file");
  for (const out of [join(folder, "reports"), join(folder, "reports", "deeper")]) {
    expect(told(() => write(out, "a.html", "text"))).toMatch(
      / could not be written \((EEXIST|ENOTDIR|ENOENT)\): (a part of the path is a file|its folder is not there)/
    );
  }
  expect(readFileSync(join(folder, "reports"), "utf8")).toBe("a file");
  expect(namesIn(folder)).toEqual(["reports"]);
});

test.each([
  ["writeReport", writeReport],
  ["newFile", newFile]
])("%s says that a name is too long", (_, write) => {
  const folder = newFolder();
  // No file system in common use has names of 300 characters; Windows says ENOENT or EINVAL for them.
  const sentence = told(() => write(folder, `${"a".repeat(300)}.html`, "text"));
  if (process.platform === "win32") expect(sentence).toMatch(/could not be written \(E[A-Z]+\): /);
  else expect(sentence).toMatch(/ could not be written \(ENAMETOOLONG\): its name or path is too long\. Choose a sh/);
  expect(namesIn(folder)).toEqual([]);
});

test("a full disk is said, the old file stands, and nothing half written stays", () => {
  const folder = newFolder();
  const path = join(folder, "a.html");
  const sentence = `${path} could not be written (ENOSPC): the disk is full. Make room and run again.`;
  expect(writeFault(path, "ENOSPC")).toBe(sentence);
  // Linux has a file on which every write finds the disk full.
  if (!existsSync("/dev/full")) return;
  writeReport(folder, "a.html", "old");
  symlinkSync("/dev/full", `${path}.${process.pid}.part`);
  expect(told(() => writeReport(folder, "a.html", "new"))).toBe(sentence);
  expect(readFileSync(path, "utf8")).toBe("old");
  expect(namesIn(folder)).toEqual(["a.html"]);
  writeReport(folder, "a.html", "new");
  expect(readFileSync(path, "utf8")).toBe("new");
});

test("writing that fails half way leaves nothing behind", () => {
  const folder = newFolder();
  const path = join(folder, "a.csv");
  const sentence = `${path} could not be written (EFBIG): it is larger than a file may be there. Choose a folder on another disk.`;
  expect(writeFault(path, "EFBIG")).toBe(sentence);
  // The shell's limit on the size of a file, in blocks, makes a write fail after the file was opened.
  if (process.platform !== "linux") return;
  const script = `import {newFile, writeReport} from "./scripts/io/writeReport.ts";
    for (const write of [newFile, writeReport])
      try { write(process.argv[1], "a.csv", "x".repeat(1e6)); } catch (error) { console.log(error.message); }`;
  const shell = 'ulimit -f 100 && exec "$0" --import tsx --input-type=module -e "$1" "$2"';
  const said = execFileSync("sh", ["-c", shell, process.execPath, script, folder], {encoding: "utf8"});
  expect(said).toBe(`${sentence}\n${sentence}\n`);
  expect(namesIn(folder)).toEqual([]);
});

test("a folder that may not be written to is said", () => {
  const folder = newFolder();
  const path = join(folder, "a.html");
  const sentence = (code: string) =>
    `${path} could not be written (${code}): you may not write there. Choose another folder, or give yourself the right to this one.`;
  expect(writeFault(path, "EACCES")).toBe(sentence("EACCES"));
  // Root may write everywhere, and Windows knows no such mode of a folder.
  if (process.platform === "win32" || process.getuid!() === 0) return;
  chmodSync(folder, 0o500);
  expect(told(() => writeReport(folder, "a.html", "text"))).toBe(sentence("EACCES"));
  expect(told(() => newFile(folder, "a.html", "text"))).toBe(sentence("EACCES"));
  chmodSync(folder, 0o700);
  expect(namesIn(folder)).toEqual([]);
});

test("removeReport removes a file, and what is not there is no fault", () => {
  const folder = newFolder();
  writeReport(folder, "a.csv", "text");
  writeReport(folder, "b.csv", "text");
  removeReport(folder, "a.csv");
  removeReport(folder, "a.csv");
  removeReport(join(folder, "no such folder"), "a.csv");
  expect(namesIn(folder)).toEqual(["b.csv"]);
});

test("removeReport leaves a folder of that name as it is, and says so", () => {
  const folder = newFolder();
  mkdirSync(join(folder, "a.csv", "inner"), {recursive: true});
  expect(told(() => removeReport(folder, "a.csv"))).toBe(
    `${join(folder, "a.csv")} could not be removed (EISDIR): it is a folder, and a file is wanted. Rename the folder or choose another name.`
  );
  expect(namesIn(folder)).toEqual(["a.csv", join("a.csv", "inner")]);
});

test("keepEdited renames to the first name that is free", () => {
  const folder = newFolder();
  for (const text of ["first", "second", "third"]) {
    writeReport(folder, "a.b.csv", text);
    keepEdited(folder, "a.b.csv");
  }
  const texts = namesIn(folder).map((name) => [name, readFileSync(join(folder, name), "utf8")]);
  expect(texts).toEqual([
    ["a.b-edited-2.csv", "second"],
    ["a.b-edited-3.csv", "third"],
    ["a.b-edited.csv", "first"]
  ]);
});

test("keepEdited says what it could not do", () => {
  const folder = newFolder();
  expect(told(() => keepEdited(folder, "a.csv"))).toMatch(/a\.csv could not be renamed \(ENOENT\): /);
});

test("what is no fault of the system is thrown as it is", () => {
  const folder = newFolder();
  expect(() => writeReport(folder, "a.html", undefined as unknown as string)).toThrow(TypeError);
  expect(() => newFile(folder, "b.html", undefined as unknown as string)).toThrow(TypeError);
  expect(namesIn(folder)).toEqual([]);
});

// Source of the codes and what they stand for: POSIX.1-2017, <errno.h>; that Windows gives EBUSY, EPERM or EACCES for a file held
// by another program: common practice, no source.
test.each([
  ["EBUSY", false, /\(EBUSY\): is it open in another program\? Close it there and run again\.$/],
  ["EPERM", true, /\(EPERM\): is it open in another program\?/],
  ["EACCES", true, /\(EACCES\): is it open in another program\?/],
  ["EPERM", false, /\(EPERM\): you may not write there/],
  ["EROFS", false, /\(EROFS\): the disk can only be read\. /],
  ["EROFS", true, /\(EROFS\): the disk can only be read\. /],
  ["EDQUOT", false, /\(EDQUOT\): your share of the disk is full\. Make room/],
  ["ENOTDIR", false, /\(ENOTDIR\): a part of the path is a file/],
  ["EEXIST", false, /\(EEXIST\): a part of the path is a file/],
  ["ENOENT", false, /\(ENOENT\): its folder is not there/],
  ["EMFILE", false, /\(EMFILE\): too many files are open at once/],
  ["EIO", false, /\(EIO\): the disk or network drive failed/],
  ["EOTHER", false, /\(EOTHER\): the system refused it\. Look the code up/]
])("writeFault of %s, held %s", (code, mayBeHeld, sentence) => {
  const line = writeFault("out/a b.html", code, mayBeHeld);
  expect(line).toMatch(sentence);
  expect(line).toMatch(/^out\/a b\.html could not be written /);
});

test.each([
  ["EACCES", /\(EACCES\): you may not read it\. /],
  ["EPERM", /\(EPERM\): you may not read it\. /],
  ["EBUSY", /\(EBUSY\): is it open in another program\? Close it there and run again\.$/],
  ["EISDIR", /\(EISDIR\): it is a folder, and a file is wanted\. /],
  ["ENOENT", /\(ENOENT\): it is not there\. Look for a typing error\.$/],
  ["ENOTDIR", /\(ENOTDIR\): a part of the path is a file/],
  ["ELOOP", /\(ELOOP\): links in its path lead in a circle/],
  ["EOTHER", /\(EOTHER\): the system refused it\. /]
])("readFault of %s", (code, sentence) => {
  const line = readFault("book/lots.csv", code);
  expect(line).toMatch(sentence);
  expect(line).toMatch(/^book\/lots\.csv could not be read /);
});

test("writeFault says what could not be done", () => {
  expect(writeFault("a.csv", "EPERM", true, "removed")).toBe(
    "a.csv could not be removed (EPERM): is it open in another program? Close it there and run again."
  );
  expect(writeFault("a.csv", "EBUSY", false, "renamed")).toMatch(/^a\.csv could not be renamed \(EBUSY\): is it open/);
});

test("every sentence of writeFault and readFault ends, and none runs into an undefined", () => {
  const codes =
    "EACCES EPERM EBUSY EISDIR ENOTDIR EEXIST ENAMETOOLONG EMFILE ENFILE ENOSPC EDQUOT EROFS EIO ELOOP ENOENT X";
  for (const code of codes.split(" ")) {
    for (const line of [writeFault("a", code), writeFault("a", code, true), readFault("a", code)]) {
      expect(line).toMatch(/^a could not be (written|read) \([A-Z]+\): [a-z].*\.$/);
      expect(line).not.toContain("undefined");
    }
  }
});
