import {crc32, deflateRawSync} from "node:zlib";

/**
 * A zip file of these parts, written by hand, so that no library reads only what it wrote itself.
 *
 * Source: PKWARE .ZIP File Format Specification (APPNOTE 6.3.10), 4.3.7, 4.3.12 and 4.3.16; layout from memory, and Python's zipfile
 * found the result whole when it was run on it once.
 */
export function zipOf(parts: Readonly<Record<string, string | Uint8Array>>, {stored = false} = {}): Buffer {
  const locals: Buffer[] = [];
  const central: Buffer[] = [];
  let offset = 0;
  for (const [name, text] of Object.entries(parts)) {
    const content = Buffer.from(text as string);
    const data = stored ? content : deflateRawSync(content);
    const common = Buffer.alloc(26);
    common.writeUInt16LE(20, 0);
    common.writeUInt16LE(0x0800, 2);
    common.writeUInt16LE(stored ? 0 : 8, 4);
    common.writeUInt16LE(0x21, 8);
    common.writeUInt32LE(crc32(content), 10);
    common.writeUInt32LE(data.length, 14);
    common.writeUInt32LE(content.length, 18);
    common.writeUInt16LE(Buffer.byteLength(name), 22);
    const local = Buffer.concat([Buffer.from("PK\x03\x04"), common, Buffer.from(name), data]);
    const place = Buffer.alloc(14);
    place.writeUInt32LE(offset, 10);
    central.push(Buffer.concat([Buffer.from("PK\x01\x02\x14\x00", "latin1"), common, place, Buffer.from(name)]));
    locals.push(local);
    offset += local.length;
  }
  const directory = Buffer.concat(central);
  const end = Buffer.alloc(22);
  end.write("PK\x05\x06", "latin1");
  end.writeUInt16LE(locals.length, 8);
  end.writeUInt16LE(locals.length, 10);
  end.writeUInt32LE(directory.length, 12);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...locals, directory, end]);
}
