import {createHash} from "node:crypto";
import {script} from "../../lib/report/script.ts";
import {style} from "../../lib/report/style.ts";

/** The hash by which a page's security policy knows a script or style sheet, as "sha256-" and base64. */
export function policyHash(text: string): string {
  return `sha256-${createHash("sha256").update(text, "utf8").digest("base64")}`;
}

/** The hash of the style sheet that all pages share; `page` wants it. */
export const styleHash: string = policyHash(style);

/** The script that the reports share, with its hash; `page` wants both. */
export const pageScript = {code: script, hash: policyHash(script)};
