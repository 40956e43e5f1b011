import {crc32, inflateRawSync} from "node:zlib";

const damaged = "is damaged, as when a copy went wrong";
const wideSize = 0xffffffff;
const largestBytes = 2 ** 28;

/**
 * What is wrong with a zip file, as the rest of a sentence that begins with its name. Every part is unpacked and its checksum
 * compared, so that a copy with one flipped bit is found out and not read as another number.
 *
 * Parts whose sizes need 64 bits are not unpacked: no workbook has them.
 *
 * Source: PKWARE .ZIP File Format Specification (APPNOTE 6.3.10), 4.3.7 local header, 4.3.12 central directory, 4.3.16 its end;
 * from memory, and held against Python's zipfile.
 * Checked: tests/scripts/io/zipFault.test.ts
 *
 * @returns undefined when every part is whole
 */
export function zipFault(bytes: Uint8Array): string | undefined {
  try {
    return faultOfParts(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength));
  } catch {
    return damaged;
  }
}

function faultOfParts(bytes: Buffer): string | undefined {
  const end = bytes.lastIndexOf("PK\x05\x06", undefined, "latin1");
  if (end < 0 || end + 22 > bytes.length)
    return "is cut off before its end, as when a copy or download was not finished";
  const directory = bytes.readUInt32LE(end + 16);
  let unpackedBytes = 0;
  let at = directory;
  for (let part = bytes.readUInt16LE(end + 10); part > 0; part--) {
    if (bytes.toString("latin1", at, at + 4) !== "PK\x01\x02") return damaged;
    const flags = bytes.readUInt16LE(at + 8);
    const method = bytes.readUInt16LE(at + 10);
    const packed = bytes.readUInt32LE(at + 20);
    const unpacked = bytes.readUInt32LE(at + 24);
    const nameBytes = bytes.readUInt16LE(at + 28);
    const local = bytes.readUInt32LE(at + 42);
    const start = local + 30 + bytes.readUInt16LE(local + 26) + bytes.readUInt16LE(local + 28);
    if (flags & 1) return "is locked with a password";
    if (bytes.toString("latin1", local, local + 4) !== "PK\x03\x04") return damaged;
    // Readers go by the local header, so it must say the same of packing, size to follow and name.
    if (bytes.readUInt16LE(local + 8) !== method || (bytes.readUInt16LE(local + 6) ^ flags) & 8) return damaged;
    if (bytes.compare(bytes, at + 46, at + 46 + nameBytes, local + 30, local + 30 + nameBytes) !== 0) return damaged;
    if (packed !== wideSize && unpacked !== wideSize) {
      unpackedBytes += unpacked;
      if (unpackedBytes > largestBytes) return "unpacks to more than 256 MiB";
      const data = bytes.subarray(start, start + packed);
      const content = method === 8 ? inflateRawSync(data, {maxOutputLength: unpacked || 1}) : data;
      if (content.length !== unpacked || crc32(content) !== bytes.readUInt32LE(at + 16)) return damaged;
    }
    at += 46 + nameBytes + bytes.readUInt16LE(at + 30) + bytes.readUInt16LE(at + 32);
  }
  return at === directory + bytes.readUInt32LE(end + 12) ? undefined : damaged;
}
