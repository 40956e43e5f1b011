import {execFile} from "node:child_process";
import {promisify} from "node:util";
import {expect, test} from "vitest";

const calibrate = (...args: string[]) =>
  promisify(execFile)(process.execPath, ["--import", "tsx", "scripts/calibrate.ts", ...args]);

test("calibrate prints both tables, with the seed, and the same for the same seed", {timeout: 240_000}, async () => {
  const args = ["--workshops", "1", "--decisions", "1", "--seed", "3"];
  const [{stdout}, again] = await Promise.all([calibrate(...args), calibrate(...args)]);
  expect(stdout).toContain("| 95 % interval of | lots alike |");
  expect(stdout).toContain("| profit missed, %, by | lots alike |");
  expect(stdout).toContain("1 workshops of each kind, seed 3.");
  expect(again.stdout).toBe(stdout);
});

test("calibrate refuses half a workshop, in a sentence", {timeout: 60_000}, async () => {
  await expect(calibrate("--workshops", "0.5")).rejects.toMatchObject({
    code: 2,
    stderr: expect.stringContaining("Give a whole number, 0 or more.")
  });
});
