/** What the page's script adds: values beside marks, headings that sort, a choice of rows. */
export const scriptStyle = `
.tip {
  position: absolute; z-index: 2; max-width: 18rem; padding: .3rem .55rem; background: var(--ink); color: var(--ground);
  font: .8rem/1.35 var(--sans); white-space: pre-line; pointer-events: none;
}
.live { position: absolute; width: 1px; height: 1px; margin: 0; overflow: hidden; clip-path: inset(50%); }
.drawing .at { stroke: var(--ink); stroke-width: 2px; }
thead button { padding: 0; border: 0; background: none; color: inherit; font: inherit; text-align: inherit; cursor: pointer; }
thead button:hover, thead button:focus-visible { text-decoration: underline; text-underline-offset: .18em; }
[aria-sort] button { position: relative; }
[aria-sort] button::after { position: absolute; left: 100%; bottom: 0; padding-left: .1em; }
[aria-sort="ascending"] button::after { content: "\\2191"; }
[aria-sort="descending"] button::after { content: "\\2193"; }
.choice { display: flex; flex-wrap: wrap; gap: .4rem 1.1rem; align-items: baseline; margin: 2.5rem 0 0; font: .85rem/1.4 var(--sans); color: var(--muted); }
.choice + section { margin-top: 2.5rem; }
.choice span { max-width: 100%; }
.choice select { max-width: min(100%, 16rem); padding: .1rem .2rem; border: 1px solid var(--rule); background: var(--ground); color: var(--ink); font: inherit; }
@media print { .choice, .tip { display: none; } .choice + section { margin-top: 1.5rem; } }
`;
