import {check} from "../check.ts";

/**
 * The content security policy of a page: it may use its own style sheet and, if it has any, its own scripts, each known by
 * its hash; it may load nothing, send nothing and be redirected nowhere. Returns the text of the policy.
 *
 * A hash is written as `sha256-` and 44 characters of base64; lib has no cryptography, so the caller computes it.
 *
 * @throws RangeError unless each hash has that form
 */
export function security({
  styleHash,
  scriptHash,
  scriptHashes = []
}: {
  styleHash: string;
  scriptHash?: string | undefined;
  /** Of further scripts. */
  scriptHashes?: readonly string[];
}): string {
  checkHash("styleHash", styleHash);
  const scripts = [...(scriptHash === undefined ? [] : [scriptHash]), ...scriptHashes];
  for (const hash of scripts) checkHash("scriptHash", hash);
  return [
    "default-src 'none'",
    scripts.length > 0 && `script-src ${scripts.map((hash) => `'${hash}'`).join(" ")}`,
    `style-src-elem '${styleHash}'`,
    "style-src-attr 'unsafe-inline'",
    "img-src data:",
    "base-uri 'none'",
    "form-action 'none'"
  ]
    .filter((part) => part !== false)
    .join("; ");
}

function checkHash(name: string, hash: string): void {
  check(/^sha256-[A-Za-z0-9+/]{43}=$/.test(hash), `security: ${name}`, "sha256- and 44 characters of base64", hash);
}
