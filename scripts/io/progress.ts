/** Tells how far a long reading has come, given the bytes read so far. */
export type Progress = (done: number) => void;

const patienceMs = 2000;
const pauseMs = 500;

/**
 * Tells on a terminal how far a file has been read, at what rate, and how long it will take yet: one line, written over twice a second and taken away
 * at the end. Anything but a terminal is told nothing.
 *
 * @param out where to tell it; `clock` in milliseconds
 */
export function progress(
  what: string,
  totalBytes: number,
  {
    out = process.stderr,
    clock = () => performance.now()
  }: {out?: {isTTY?: boolean; write: (text: string) => unknown}; clock?: () => number} = {}
): Progress {
  const start = clock();
  let told = start + patienceMs - pauseMs;
  let width = 0;
  return (done) => {
    if (!out.isTTY) return;
    const now = clock();
    const isEnd = done >= totalBytes;
    if (isEnd ? width === 0 : now - told < pauseMs) return;
    told = now;
    const rate = done / (now - start);
    const line = isEnd
      ? ""
      : `Reading ${what}: ${Math.floor((100 * done) / totalBytes)} %, ${(rate / 1000).toFixed(1)} MB/s, ${Math.ceil((totalBytes - done) / rate / 1000)} s left`;
    out.write(`\r${line.padEnd(width)}${isEnd ? "\r" : ""}`);
    width = line.length;
  };
}
