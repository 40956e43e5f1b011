import {expect, test} from "vitest";
import {zipFault} from "../../../scripts/io/zipFault.ts";
import {zipOf} from "./zipOf.ts";

const parts = {"a.txt": "ash,".repeat(100), "folder/bü.txt": "maple", "empty.txt": ""};
const damaged = "is damaged, as when a copy went wrong";

// Made by another program: Python 3.11's zipfile, ZipFile(…).writestr(ZipInfo("a.txt"), "ash " * 8, 8), as base64.
const ofPython =
  "UEsDBBQAAAAIAAAAIQAs1lb3CAAAACAAAAAFAAAAYS50eHRLLM5QSMSDAVBLAQIUAxQAAAAIAAAAIQAs1lb3CAAAACAAAAAFAAAAAAAAAAAAAACAAQAAAABhLnR4dFBLBQYAAAAAAQABADMAAAArAAAAAAA=";

test("a whole zip file has no fault, packed or stored, ours or another program's, and with a comment behind it", () => {
  expect(zipFault(zipOf(parts))).toBeUndefined();
  expect(zipFault(zipOf(parts, {stored: true}))).toBeUndefined();
  expect(zipFault(Buffer.from(ofPython, "base64"))).toBeUndefined();
  const commented = Buffer.concat([zipOf(parts), Buffer.from("a comment")]);
  commented.writeUInt16LE(9, commented.length - 9 - 2);
  expect(zipFault(commented)).toBeUndefined();
});

test("any one byte of a part that is changed is found out", () => {
  const bytes = zipOf({"a.txt": "massG 512"}, {stored: true});
  const start = bytes.indexOf("massG");
  for (let at = start; at < start + 9; at++) {
    const changed = Buffer.from(bytes);
    changed[at]! ^= 1;
    expect(zipFault(changed)).toBe(damaged);
  }
});

test("a file that is cut off anywhere is found out", () => {
  const bytes = zipOf(parts);
  for (let length = 0; length < bytes.length; length++) {
    expect(zipFault(bytes.subarray(0, length))).toBe(
      "is cut off before its end, as when a copy or download was not finished"
    );
  }
});

test("what is packed wrongly, or is not where it should be, is found out", () => {
  const bytes = zipOf({"a.txt": "ash,".repeat(100)});
  const packed = Buffer.from(bytes);
  packed.fill(0xff, 35, 40);
  expect(zipFault(packed)).toBe(damaged);
  const misplaced = Buffer.from(bytes);
  misplaced.writeUInt32LE(1e6, bytes.length - 6);
  expect(zipFault(misplaced)).toBe(damaged);
});

test("a password is told, and so is what would fill the memory", () => {
  const bytes = zipOf({"a.txt": "ash"});
  const central = bytes.indexOf("PK\x01\x02");
  const locked = Buffer.from(bytes);
  locked[central + 8]! |= 1;
  expect(zipFault(locked)).toBe("is locked with a password");
  const large = Buffer.from(bytes);
  large.writeUInt32LE(2 ** 30, central + 24);
  expect(zipFault(large)).toBe("unpacks to more than 256 MiB");
});

test("a part that unpacks to more than it says is found out, not unpacked", () => {
  const bytes = zipOf({"a.txt": Buffer.alloc(50_000_000)});
  const central = bytes.indexOf("PK\x01\x02");
  bytes.writeUInt32LE(1000, central + 24);
  expect(zipFault(bytes)).toBe(damaged);
});

test("what the two headers of a part say differently is found out, as readers go by the first", () => {
  const bytes = zipOf({"a.txt": "ash,".repeat(100)});
  for (const [at, bit] of [
    [0, 1],
    [6, 8],
    [8, 8],
    [30, 1]
  ] as const) {
    const changed = Buffer.from(bytes);
    changed[at]! ^= bit;
    expect(zipFault(changed), String(at)).toBe(damaged);
  }
});

test("a part that its end does not count is found out", () => {
  const bytes = zipOf(parts);
  bytes.writeUInt16LE(2, bytes.length - 12);
  expect(zipFault(bytes)).toBe(damaged);
});
