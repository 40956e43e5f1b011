import {html} from "../../lib/report/html.ts";
import {page} from "../../lib/report/page.ts";
import {pageScript, styleHash} from "../../scripts/io/policyHash.ts";
import {whatIfParts} from "../../scripts/pages/season/whatIf.ts";
import {whatIfScript} from "../../scripts/whatIf/bundle.ts";
import type {WhatIfData} from "../../scripts/whatIf/panel.ts";

/** A page with the what-if panel alone. */
export function whatIfPage(data: WhatIfData): string {
  const {heading, body} = whatIfParts(data);
  return page({
    title: "Squares to buy",
    subtitle: "An invented workshop",
    lang: "en-GB",
    lead: ["One."],
    styleHash,
    script: pageScript,
    ownScript: whatIfScript(),
    sections: [{id: "what-if", heading, body}],
    footer: html`<p>The end.</p>`
  });
}
