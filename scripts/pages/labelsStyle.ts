/** Label sheets beyond the look of all pages: a list of labels on the screen, A4 sheets of them on paper. A label is paper: dark on white by night too. */
export const labelsStyle = `
body.labels { display: block; max-width: none; }
.labels .sheet { display: flex; flex-wrap: wrap; gap: .6rem; max-width: none; margin: 1rem 0; padding: 0; list-style: none; }
.labels main { max-width: none; }
.label { display: flex; align-items: center; gap: 1mm; box-sizing: border-box; width: min(var(--width), 100%); min-height: var(--height); margin: 0; padding: var(--pad); background: #fff; color: #000; font-family: var(--sans); border: 1px solid var(--rule); forced-color-adjust: none; }
.label .code { flex: none; width: min(var(--code), 40%); height: auto; aspect-ratio: 1; margin-left: calc(-1 * var(--pad) / 2); }
.label .text { flex: 1; min-width: 0; margin: 0; }
.label b, .label span { display: block; line-height: 1.15; }
.label b { font-weight: 700; overflow-wrap: anywhere; unicode-bidi: isolate; white-space: pre-wrap; }
.label .letters { line-break: anywhere; }
.label span { overflow-wrap: anywhere; }
@media print {
  @page { size: A4; margin: 0; }
  body.labels { padding: 0; margin: 0; max-width: none; }
  .labels .about { display: none; }
  .labels main { display: block; margin: 0; padding: 0; }
  .labels .sheet { display: grid; grid-template-columns: repeat(var(--columns), var(--width)); grid-auto-rows: var(--height); gap: var(--gap-down) var(--gap-across); align-content: start; justify-content: start; box-sizing: border-box; width: 210mm; height: 296.9mm; margin: 0; padding: var(--above) 0 0 var(--aside); overflow: clip; break-inside: avoid; }
  .labels .sheet + .sheet { break-before: page; }
  .label { width: auto; min-height: 0; height: var(--height); border: 0; background: none; break-inside: avoid; }
  .label .code { width: var(--code); height: var(--code); }
}
`;
