/** A figure: heading, key, the drawing that suits the width at hand, note, data. */
export const figureStyle = `
.figure { margin: 2.5rem 0; }
p + .figure { margin-top: 1.5rem; }
.figure .number { display: block; margin-bottom: .15rem; font: .8rem/1.3 var(--sans); color: var(--muted); }
.figure .subtitle { margin: .25rem 0 .75rem; font: .9rem/1.4 var(--sans); color: var(--muted); max-width: var(--full); }
.key { display: flex; flex-wrap: wrap; gap: .2rem 1.25rem; margin: 0 0 .6rem; padding: 0; list-style: none; font: .85rem/1.4 var(--sans); max-width: none; }
.key li { display: flex; align-items: center; gap: .45rem; }
.key svg { flex: none; width: .8rem; height: .8rem; }
figure { margin: 0; container-type: inline-size; }
figcaption { margin-top: .6rem; }
.leads { margin: .35rem 0 0; font: .85rem/1.45 var(--sans); color: var(--muted); }
.drawing { font-family: var(--sans); font-variant-numeric: lining-nums tabular-nums; --plot-background: var(--ground); }
.drawing svg { display: block; width: 100%; height: auto; overflow: visible; }
.drawing text { white-space: pre; }
.drawing .wide { display: none; }
.drawing .narrow { max-width: 30rem; }
@container (min-width: 660px) {
  .drawing .wide { display: block; max-width: 46rem; }
  .drawing .narrow { display: none; }
}
details { margin-top: .5rem; font: .85rem/1.45 var(--sans); }
summary { display: inline-block; padding: .15rem 0; color: var(--accent); cursor: pointer; text-decoration: underline; text-decoration-thickness: 1px; text-underline-offset: .18em; }
summary::before { content: "+"; display: inline-block; width: 1.1em; }
details[open] > summary::before { content: "\\2212"; }
`;
