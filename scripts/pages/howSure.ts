import {html} from "../../lib/report/html.ts";

/** How the intervals of all pages are made, and how often they held the truth where it was known (the contributor's guide has the table). */
export const howSure = html`<p>Intervals are for 95 of 100 cases. Squares of one lot are alike, so the lots are what counts: each is left out in turn, how far the figure then moves says how well it is known, and few lots make the interval wider (Student's law). A share has Wilson's limits at the number of independent squares that would scatter as much.</p>`;

/** What following the advice loses. */
export const howGood = html``;
