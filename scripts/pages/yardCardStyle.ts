/** The yard card beyond the look of all pages: four panels that fill an A4 sheet and fold twice to a pocket, a sheet for every two species. */
export const yardCardStyle = `
body.card { display: block; max-width: 60rem; }
.sheet { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 24rem), 1fr)); gap: 2rem; font-family: var(--sans); }
.sheet + .sheet { margin-top: 2rem; }
.sheet > .panel { margin: 0; }
.panel caption { font-size: .9rem; text-align: left; }
.panel > h1 { font-family: var(--serif); }
.panel ol, .panel ul { padding-left: 1.2rem; }
.panel > h2 { margin: 0 0 .3rem; border-top: 4px solid var(--ink); padding-top: .5rem; font-family: var(--serif); }
.panel p, .panel li { font-size: .9rem; line-height: 1.4; }
.panel .table { margin: 0; }
.panel table { width: 100%; font-size: .9rem; }
.panel td { line-height: 1.25; padding: .25rem .2rem .25rem .5rem; }
.panel th[scope="row"] { padding: .25rem 0; white-space: nowrap; font-weight: 600; }
.panel th small { display: block; }
.panel td b { font-size: 1.1rem; }
.panel td small { display: block; font-size: .78rem; color: var(--ink); }
.panel td .maybe { color: var(--muted); }
@media (max-width: 58rem) {
  .panel td { padding-left: .3rem; padding-right: 0; }
  .panel td b { font-size: 1rem; }
}
@media (max-width: 32rem) {
  .panel .unit { display: none; }
  .panel td { padding-left: .2rem; }
  .panel .num { min-width: 0; }
  .panel td b { font-size: .95rem; }
  .panel td small { font-size: .68rem; }
}
@media (max-width: 25.5rem) {
  .panel table { font-size: .75rem; }
  .panel td b { font-size: .82rem; }
  .panel td small { font-size: .62rem; white-space: normal; }
}
@media print {
  @page { margin: 0; }
  body.card { padding: 0; }
  .card .others, .card footer { display: none; }
  .sheet { grid-template-columns: 105mm 105mm; grid-auto-rows: 148mm; gap: 0; }
  .sheet + .sheet { margin-top: 0; break-before: page; }
  .panel { padding: 7mm 7mm 5mm; overflow: hidden; break-inside: avoid; outline: .2mm dashed var(--rule); outline-offset: -.1mm; }
  .panel > h1 { font-size: 20pt; }
  .panel > h2 { border-top-width: .8mm; font-size: 15pt; padding-top: 1.5mm; }
  .panel p, .panel li { font-size: 8.6pt; line-height: 1.3; margin-bottom: 1.6mm; }
  .panel table { font-size: 9pt; }
  .panel caption { font-size: 8.6pt; }
  .panel td, .panel th[scope="row"] { padding: .5mm 0 .5mm 2mm; }
  .panel th[scope="row"] { padding-left: 0; }
  .panel td b { font-size: 12pt; }
  .panel td small { font-size: 8pt; }
  .panel td .maybe { color: var(--ink); }
}
`;
