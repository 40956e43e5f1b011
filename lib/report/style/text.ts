/** Headings, running text, main points, key figures, faults. Numbers stand in a row of one width and one height. */
export const textStyle = `
h1, h2, h3, h4 { line-height: 1.2; text-wrap: balance; font-variant-numeric: lining-nums; }
h1 { margin: 0; font-size: 2.3rem; font-weight: 600; letter-spacing: -.012em; }
h2 { margin: 0 0 1rem; font-size: 1.5rem; font-weight: 600; letter-spacing: -.006em; }
h3 { margin: 0; font-size: 1.15rem; font-weight: 600; }
main > section > h3 { margin: 1.9rem 0 .35rem; }
main > section > h2 + h3 { margin-top: 0; }
h4 { margin: 1.5rem 0 .4rem; font: 600 .9rem/1.3 var(--sans); }
p, ul, ol, dl { margin: 0 0 1rem; max-width: var(--measure); }
p, li, dd { font-variant-numeric: lining-nums; text-wrap: pretty; }
a { color: var(--accent); text-underline-offset: .18em; text-decoration-thickness: 1px; }
a:hover { text-decoration-thickness: 2px; }
:focus-visible { outline: 2px solid var(--accent); outline-offset: 2px; }
header p { margin: .6rem 0 0; color: var(--muted); }
.others, .muted, .note, .csv { font-family: var(--sans); font-size: .85rem; line-height: 1.45; }
.muted, .note { color: var(--muted); }
.kept { white-space: nowrap; }
code { font-size: .9em; overflow-wrap: anywhere; }
.lead { padding: 0; list-style: none; }
.lead li { margin: 0 0 .55rem; padding-left: 1.4rem; text-indent: -1.4rem; }
.lead li::before { content: "\\2014"; display: inline-block; width: 1.4rem; text-indent: 0; color: var(--muted); }
.lead li:first-child { font-size: 1.15rem; line-height: 1.45; }
.key-figures {
  display: grid; grid-template-columns: repeat(auto-fit, minmax(7.4rem, 1fr)); gap: 1.4rem 1.5rem; max-width: none;
  margin: 2rem 0; padding: 1rem 0 1.1rem; border-block: 1px solid var(--rule); font-family: var(--sans);
}
.key-figures dt { font-size: .85rem; line-height: 1.35; }
.key-figures dd { margin: 0; font-size: .8rem; line-height: 1.45; color: var(--muted); }
.key-figures .value {
  margin: .2rem 0 .25rem; font: 2rem/1.1 var(--serif); font-variant-numeric: lining-nums tabular-nums; color: var(--ink);
  letter-spacing: -.015em; white-space: nowrap;
}
.key-figures .value .unit { font-size: 1.1rem; letter-spacing: 0; }
.formula { margin-left: 1.4rem; font: .9rem/1.5 var(--sans); }
.faults { padding: 0; list-style: none; max-width: var(--full); }
.faults > li { padding: .6rem 0; border-top: 1px solid var(--rule); }
.faults p { margin: 0; }
`;
