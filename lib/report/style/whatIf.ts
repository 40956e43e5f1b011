/** The what-if panel: fields in groups, their buttons, and what is changed in words. On paper the form goes, the words stay. */
export const whatIfStyle = `
.what-if form { display: grid; grid-template-columns: repeat(auto-fit, minmax(15rem, 1fr)); gap: .9rem 1.5rem; margin: 0 0 1.4rem; font: .85rem/1.4 var(--sans); }
.what-if fieldset { min-width: 0; margin: 0; padding: .5rem .8rem .6rem; border: 1px solid var(--rule); }
.what-if legend { padding: 0 .3rem; font-weight: 600; }
.what-if form p { display: flex; flex-wrap: wrap; gap: .2rem .8rem; justify-content: space-between; align-items: baseline; max-width: none; margin: .25rem 0; }
.what-if .acts { grid-column: 1 / -1; justify-content: flex-start; }
.what-if .said { grid-column: 1 / -1; min-height: 1.4em; }
.what-if input, .acts button { padding: .15rem .35rem; border: 1px solid var(--muted); background: var(--ground); color: var(--ink); font: inherit; font-variant-numeric: tabular-nums; }
.what-if input[type="number"] { width: 6rem; text-align: right; }
.what-if input[type="text"] { flex: 1 1 14rem; min-width: 0; }
.what-if input[aria-invalid] { border: 2px dashed var(--ink); }
.acts button { cursor: pointer; }
.acts button:hover { text-decoration: underline; text-underline-offset: .18em; }
@media print { #what-if-form, .what-if:not(.changed) { display: none; } }
`;
