/** Phones, paper, forced colours, less motion. */
export const mediaStyle = `
@media (max-width: 32rem) {
  h1 { font-size: 1.8rem; }
  h2 { font-size: 1.35rem; }
  .key-figures { grid-template-columns: repeat(auto-fit, minmax(8.5rem, 1fr)); gap: 1.2rem 1.25rem; }
  .key-figures .value { font-size: 1.9rem; }
  .contents li ol { display: none; }
  .facts { grid-template-columns: minmax(0, 1fr); gap: 0; }
  .facts dd { margin-bottom: .5rem; }
}
@media (forced-colors: active) {
  :root { --ground: Canvas; --ink: CanvasText; --muted: CanvasText; --rule: CanvasText; --accent: LinkText; }
  .drawing, .key svg { forced-color-adjust: none; color: CanvasText; }
}
@page {
  size: A4; margin: 17mm 18mm 20mm;
  @bottom-right { content: counter(page) " / " counter(pages); font: 8pt sans-serif; color: #615a50; }
}
@media print {
  :root { color-scheme: light; --measure: 100%; --full: 100%; }
  html { font-size: 10pt; line-height: 1.4; background: none; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
  body { display: block; max-width: none; padding: 0; }
  header { margin: 0; padding-bottom: 1rem; }
  .skip, .contents, .others, .csv, .leads, details:not([open]) { display: none; }
  main > section + section { margin-top: 1.5rem; }
  .key-figures { margin: 1.25rem 0; padding-block: .6rem; }
  h1 { font-size: 21pt; }
  h2 { font-size: 15pt; }
  h1, h2, h3, h4, h2 + p, .subtitle, .key, caption, summary { break-after: avoid; }
  .note { break-before: avoid; }
  h1, h2, h3, h4, figure, .figure:not(:has(details[open])), .key-figures, .faults > li, tr { break-inside: avoid; }
  .figure { margin: 1.25rem 0; }
  .drawing .wide { display: block; max-width: 158mm; }
  .drawing .narrow { display: none; }
  .table { overflow: visible; background: none; }
  table { max-width: 100%; font-size: 7.2pt; }
  th, td { padding: .2rem .55rem .2rem 0; }
  .num { min-width: 0; }
  td { white-space: normal; }
  thead { display: table-header-group; }
  p, li { orphans: 3; widows: 3; }
  a { color: inherit; text-decoration: none; }
  footer { margin-top: 2rem; }
}
`;
