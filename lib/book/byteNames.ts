/** Texts of one column, each once, found again by their bytes: most cells repeat what another has said. */
export class ByteNames {
  readonly names: string[] = [];
  readonly #nameOf: (bytes: Uint8Array) => string;
  #table = new Int32Array(1024).fill(-1);
  #hashes = new Int32Array(512);
  #starts = new Int32Array(513);
  #pool = new Uint8Array(16_384);

  /** @param nameOf a text from its bytes; asked once for each text */
  constructor(nameOf: (bytes: Uint8Array) => string) {
    this.#nameOf = nameOf;
  }

  /** The place of a text in `names`, given by where its bytes stand. FNV-1a, 32 bits, and a table of open addresses. */
  place(bytes: Uint8Array, start: number, end: number): number {
    let hash = 0x811c9dc5 | 0;
    for (let i = start; i < end; i++) hash = Math.imul(hash ^ bytes[i]!, 0x01000193);
    const mask = this.#table.length - 1;
    for (let slot = hash & mask; ; slot = (slot + 1) & mask) {
      const place = this.#table[slot]!;
      if (place < 0) return this.#added(bytes, start, end, hash, slot);
      if (this.#hashes[place] === hash && this.#isSame(place, bytes, start, end)) return place;
    }
  }

  #isSame(place: number, bytes: Uint8Array, start: number, end: number): boolean {
    const from = this.#starts[place]!;
    if (this.#starts[place + 1]! - from !== end - start) return false;
    for (let i = start, k = from; i < end; i++, k++) if (bytes[i] !== this.#pool[k]) return false;
    return true;
  }

  #added(bytes: Uint8Array, start: number, end: number, hash: number, slot: number): number {
    const place = this.names.length;
    this.names.push(this.#nameOf(bytes.subarray(start, end)));
    if (place + 1 >= this.#hashes.length) {
      this.#hashes = wider(this.#hashes, 2 * this.#hashes.length);
      this.#starts = wider(this.#starts, 2 * this.#starts.length);
    }
    const from = this.#starts[place]!;
    const to = from + end - start;
    if (to > this.#pool.length) {
      const pool = new Uint8Array(2 * to);
      pool.set(this.#pool);
      this.#pool = pool;
    }
    this.#pool.set(bytes.subarray(start, end), from);
    this.#hashes[place] = hash;
    this.#starts[place + 1] = to;
    this.#table[slot] = place;
    if (2 * this.names.length > this.#table.length) this.#rehash();
    return place;
  }

  #rehash(): void {
    this.#table = new Int32Array(4 * this.#table.length).fill(-1);
    const mask = this.#table.length - 1;
    for (let place = 0; place < this.names.length; place++) {
      let slot = this.#hashes[place]! & mask;
      while (this.#table[slot]! >= 0) slot = (slot + 1) & mask;
      this.#table[slot] = place;
    }
  }
}

function wider(list: Int32Array, length: number): Int32Array<ArrayBuffer> {
  const made = new Int32Array(length);
  made.set(list);
  return made;
}
