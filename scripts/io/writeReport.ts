import {existsSync, mkdirSync, renameSync, rmSync, statSync, writeFileSync} from "node:fs";
import {dirname, extname, join} from "node:path";

/**
 * Writes a file of a report beside its place and moves it there, so that a reader never sees half of it, nor does Ctrl-C leave half of it behind. Folders are made; text
 * is written as UTF-8. Whatever goes wrong, what stood there before still stands and nothing half written is left.
 *
 * @returns the path
 * @throws UserError that says what is wrong with the path and how to mend it
 */
export function writeReport(folder: string, name: string, data: string | Uint8Array): string {
  const path = join(folder, name);
  makeFolder(path);
  const beside = `${path}.${process.pid}.part`;
  holdInterrupts();
  try {
    writeFileSync(beside, data);
    renameSync(beside, path);
  } catch (error) {
    discard(beside);
    throw faultOf(path, error);
  }
  return path;
}

/** Settles when Ctrl-C is held no longer; undefined while it is not held. */
let held: Promise<void> | undefined;

/** Ctrl-C waits until a file that is being written stands whole, and ends the program then. */
function holdInterrupts(): void {
  held ??= (async () => {
    const end = () => process.exit(130);
    process.on("SIGINT", end);
    // A signal is looked for once in a whole turn of the loop, and the first may be half over.
    for (let turn = 0; turn < 2; turn++) await new Promise((done) => setImmediate(done));
    process.removeListener("SIGINT", end);
    held = undefined;
  })();
}

/** To be awaited between the writing of files and work that takes long: a Ctrl-C that came meanwhile ends the program here, a later one at once. */
export async function written(): Promise<void> {
  await held;
}

/**
 * Writes a file that must not be there yet; folders are made, text is written as UTF-8. Nothing is ever overwritten.
 *
 * @returns the path
 * @throws UserError that names the file that is there already, or says what is wrong with the path
 */
export function newFile(folder: string, name: string, data: string | Uint8Array): string {
  const path = join(folder, name);
  makeFolder(path);
  try {
    writeFileSync(path, data, {flag: "wx"});
  } catch (error) {
    const {syscall, code} = error as NodeJS.ErrnoException;
    if (code === "EEXIST" || (syscall === "open" && existsSync(path))) {
      throw new UserError(`${path} is there already and was left as it is. Move it away or choose another name.`);
    }
    // Once opened, the file is ours, and half written.
    if (syscall !== undefined && syscall !== "open") discard(path);
    throw faultOf(path, error);
  }
  return path;
}

/**
 * Removes a file of a report, if it is there.
 *
 * @throws UserError that says what is wrong with the path and how to mend it
 */
export function removeReport(folder: string, name: string): void {
  const path = join(folder, name);
  try {
    if (existsSync(path)) rmSync(path);
  } catch (error) {
    throw faultOf(path, error, "removed");
  }
}

/**
 * Takes a file out of the way of the next report, as it holds somebody's work: it is renamed to `a-edited.csv`, or to the first of
 * `a-edited-2.csv`, `a-edited-3.csv`, … that is not there.
 *
 * @returns the new path
 * @throws UserError that says what is wrong with the path and how to mend it
 */
export function keepEdited(folder: string, name: string): string {
  const path = join(folder, name);
  const ending = extname(name);
  const stem = `${path.slice(0, path.length - ending.length)}-edited`;
  let kept = `${stem}${ending}`;
  for (let number = 2; existsSync(kept); number++) kept = `${stem}-${number}${ending}`;
  try {
    renameSync(path, kept);
  } catch (error) {
    throw faultOf(path, error, "renamed");
  }
  return kept;
}

/** A fault that the user can mend; shown as its sentence, without a stack. */
export class UserError extends Error {}

type Done = "written" | "removed" | "renamed";

/**
 * Why a file could not be written (or removed, or renamed) and what to do, in one line, from the system's code.
 *
 * @param mayBeHeld whether a refusal may mean that another program holds the file: so on Windows when the file is there
 * @example writeFault("reports/a.html", "ENOSPC")
 * // "reports/a.html could not be written (ENOSPC): the disk is full. Make room and run again."
 */
export function writeFault(path: string, code: string, mayBeHeld = false, done: Done = "written"): string {
  const isRefusal = code === "EACCES" || code === "EPERM";
  const why = isRefusal && mayBeHeld ? whyNot.EBUSY : (whyNotWritten[code] ?? whyNot[code] ?? unknown);
  return `${path} could not be ${done} (${code}): ${why}`;
}

/**
 * Why a file could not be read and what to do, in one line, from the system's code.
 *
 * @example readFault("my-book/lots.csv", "EISDIR")
 * // "my-book/lots.csv could not be read (EISDIR): it is a folder, and a file is wanted. Rename the folder or choose another name."
 */
export function readFault(path: string, code: string): string {
  return `${path} could not be read (${code}): ${whyNotRead[code] ?? whyNot[code] ?? unknown}`;
}

const unknown = "the system refused it. Look the code up, or try another folder or disk.";

const whyNot: Readonly<Record<string, string>> = {
  EBUSY: "is it open in another program? Close it there and run again.",
  EISDIR: "it is a folder, and a file is wanted. Rename the folder or choose another name.",
  ENOTDIR: "a part of the path is a file, and a folder is wanted. Rename that file or choose another folder.",
  ENAMETOOLONG: "its name or path is too long. Choose a shorter one.",
  ELOOP: "links in its path lead in a circle. Choose the place that is meant itself.",
  EMFILE: "too many files are open at once. Close other programs and run again.",
  ENFILE: "too many files are open at once. Close other programs and run again.",
  EIO: "the disk or network drive failed. See that it is connected and run again."
};

const mayNotWrite = "you may not write there. Choose another folder, or give yourself the right to this one.";

const whyNotWritten: Readonly<Record<string, string>> = {
  EACCES: mayNotWrite,
  EPERM: mayNotWrite,
  EROFS: "the disk can only be read. Choose a folder on another.",
  ENOSPC: "the disk is full. Make room and run again.",
  EDQUOT: "your share of the disk is full. Make room and run again.",
  EFBIG: "it is larger than a file may be there. Choose a folder on another disk.",
  EEXIST: whyNot.ENOTDIR!,
  ENOENT: "its folder is not there. Make the folder, or choose another."
};

const mayNotRead =
  "you may not read it. Give yourself the right to it; if it is open in another program, close it there.";

const whyNotRead: Readonly<Record<string, string>> = {
  EACCES: mayNotRead,
  EPERM: mayNotRead,
  ENOENT: "it is not there. Look for a typing error."
};

function makeFolder(path: string): void {
  try {
    mkdirSync(dirname(path), {recursive: true});
  } catch (error) {
    throw faultOf(path, error);
  }
}

/** The error as a sentence for the user; one that does not come from the system is a fault of ours and stays as it is. */
function faultOf(path: string, error: unknown, done: Done = "written"): unknown {
  const code = codeOf(error);
  if (code === undefined) return error;
  const isThere = existsSync(path);
  // Windows says EPERM for a folder in the way as for a file that is open elsewhere.
  if (isThere && statSync(path).isDirectory()) return new UserError(writeFault(path, "EISDIR", false, done));
  return new UserError(writeFault(path, code, isThere && process.platform === "win32", done));
}

/** The system's code of an error, such as "ENOSPC". */
function codeOf(error: unknown): string | undefined {
  return error instanceof Error && "syscall" in error ? (error as NodeJS.ErrnoException).code : undefined;
}

/** Removes what was half written. That this fails too is no news: what failed first is told. */
function discard(path: string): void {
  try {
    rmSync(path, {force: true});
  } catch {}
}
