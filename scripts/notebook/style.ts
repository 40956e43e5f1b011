/** What a notebook's page has beyond a report's: prose with headings of its own, code with the numbers of its lines, the fault. */
export const notebookStyle = `
.prose h2 { margin-top: 3.25rem; border-top: 1px solid var(--ink); padding-top: .7rem; }
.prose h3 { margin: 1.75rem 0 .5rem; }
main > .prose:first-child > h2:first-child { margin-top: 0; }
.prose blockquote { margin: 0 0 1rem; padding-left: 1rem; border-left: 2px solid var(--rule); color: var(--muted); }
.prose table { display: block; overflow-x: auto; margin-bottom: 1rem; }
.prose td { text-align: left; white-space: normal; }
.prose hr { margin: 2rem 0; border: 0; border-top: 1px solid var(--rule); }
.cell { margin: 1.5rem 0 2.25rem; }
.cell h3 { margin-bottom: .5rem; }
.cell .label { margin: 0 0 .3rem; font: .8rem/1.3 var(--sans); color: var(--muted); }
pre { margin: 0 0 1rem; font: .78rem/1.6 ui-monospace, "Cascadia Mono", Menlo, Consolas, "Liberation Mono", monospace; white-space: pre-wrap; overflow-wrap: anywhere; tab-size: 2; }
pre code { font: inherit; }
.code { border-left: 2px solid var(--rule); padding: .15rem 0 .15rem .4rem; }
.code .line { display: block; position: relative; padding-left: 10ch; text-indent: -4ch; }
.code .line::before { content: attr(data-line); position: absolute; left: 0; width: 4ch; text-indent: 0; text-align: right; color: var(--muted); font-size: .9em; user-select: none; }
.code .comment { color: var(--muted); }
.code .keyword { font-weight: 600; }
.code .string { color: var(--accent); }
.code .number { color: var(--number); }
:root { --number: #1e336f; }
@media screen and (prefers-color-scheme: dark) { :root { --number: #67aaee; } }
.cell .text { max-width: var(--measure); white-space: pre-line; }
.cell .printed { padding-left: .4rem; }
.fault { margin: 2rem 0; border: 2px solid var(--ink); padding: 1rem 1.25rem; }
.fault h2 { font-size: 1.15rem; margin-bottom: .5rem; }
main > section.fault > h2 { border: 0; padding: 0; }
.fault p { overflow-wrap: anywhere; white-space: pre-line; }
.fault p:last-child { margin-bottom: 0; }
@media (max-width: 32rem) { pre { font-size: .72rem; } .code .line { padding-left: 8ch; text-indent: -3ch; } }
@media print { .cell { margin: 1rem 0; } pre { font-size: 7pt; } .code .line { break-inside: avoid; } .prose h2 { margin-top: 1.5rem; } }
`;
