/** The frame of a page: measure, masthead, contents list, sections. */
export const frameStyle = `
:root {
  --serif: Charter, "Bitstream Charter", "Sitka Text", Cambria, "Noto Serif", "Liberation Serif", serif;
  --sans: "Segoe UI", "Avenir Next", "Source Sans 3", "Noto Sans", "Liberation Sans", sans-serif;
  --measure: 38rem; --full: 46rem;
}
*, ::before, ::after { box-sizing: border-box; }
html { background: var(--ground); color: var(--ink); font: 106.25%/1.55 var(--serif); -webkit-text-size-adjust: 100%; }
body { margin: 0 auto; padding: 0 1.25rem 4rem; max-width: calc(var(--full) + 2.5rem); overflow-wrap: break-word; }
.skip { position: absolute; left: -100rem; }
.skip:focus { left: 1rem; top: 1rem; padding: .25rem .75rem; background: var(--ground); z-index: 1; }
header { padding-top: 2.25rem; }
.others { display: flex; flex-wrap: wrap; gap: .25rem 1.5rem; margin: 0 0 1.5rem; padding: 0; list-style: none; }
.masthead { border-top: 4px solid var(--ink); padding: 1.1rem 0 1.6rem; }
main > section + section { margin-top: 3.25rem; }
main > section > h2 { border-top: 1px solid var(--ink); padding-top: .7rem; }
.contents { margin: 0 0 2rem; font: .85rem/1.45 var(--sans); }
.contents ol { margin: .4rem 0 0; padding: 0; list-style: none; }
.contents li { margin: .1rem 0; }
.contents li ol { margin: 0 0 0 1rem; }
.contents a { display: block; padding: .15rem 0; color: var(--ink); text-decoration-color: var(--rule); }
footer { margin-top: 4rem; border-top: 4px solid var(--ink); padding-top: 1rem; }
@media (min-width: 72rem) {
  body { display: grid; grid-template-columns: 12.5rem minmax(0, var(--full)); gap: 0 3.5rem; max-width: 65rem; }
  header, main, footer { grid-column: 2; }
  .contents { grid-column: 1; grid-row: 1 / span 3; margin-top: 2.25rem; }
  .contents > div { position: sticky; top: 0; padding: 1.1rem 0; border-top: 1px solid var(--ink); max-height: 100vh; overflow-y: auto; }
}
`;
