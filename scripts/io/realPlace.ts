import {realpathSync} from "node:fs";
import {basename, dirname, join, sep} from "node:path";

/** A path as the disk has it, whatever links and capitals it was named by; what is not there yet keeps its name. */
export function realPlace(path: string): string {
  try {
    return realpathSync.native(path);
  } catch {
    const folder = dirname(path);
    return folder === path ? path : join(realPlace(folder), basename(path));
  }
}

/** Whether a path lies in a folder, or is it. Both as they are given: links are not followed. */
export const liesIn = (path: string, folder: string): boolean => `${path}${sep}`.startsWith(folder + sep);
