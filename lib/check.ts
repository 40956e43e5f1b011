/**
 * The one error sentence: throws `<where> must be <rule>, got <value>.` when `ok` is false.
 *
 * Write `ok` so that NaN fails it: `x > 0`, never `!(x <= 0)`.
 *
 * @throws RangeError unless ok
 */
export function check(ok: boolean, where: string, rule: string, got: unknown): asserts ok {
  if (!ok) throw new RangeError(`${where} must be ${rule}, got ${typeof got === "string" ? `"${got}"` : String(got)}.`);
}
