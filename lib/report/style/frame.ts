/** The frame of a page: measure, masthead, contents list, sections. */
export const frameStyle = `
:root {
  --serif: Charter, "Bitstream Charter", "Sitka Text", Cambria, "Noto Serif", "Liberation Serif", serif;
  --sans: "Segoe UI", "Avenir Next", "Source Sans 3", "Noto Sans", "Liberation Sans", sans-serif;
  --measure: 36rem; --full: 46rem;
}
*, ::before, ::after { box-sizing: border-box; }
html { background: var(--ground); color: var(--ink); font: 106.25%/1.55 var(--serif); -webkit-text-size-adjust: 100%; }
body { margin: 0 auto; padding: 2.25rem 1.25rem 4rem; max-width: calc(var(--full) + 2.5rem); overflow-wrap: break-word; }
.skip { position: absolute; left: -100rem; }
.skip:focus { left: 1rem; top: 1rem; padding: .25rem .75rem; background: var(--ground); z-index: 1; }
.others { margin-bottom: 1.25rem; }
.others ul { display: flex; flex-wrap: wrap; gap: .25rem 1.5rem; margin: 0; padding: 0; max-width: none; list-style: none; }
header {
  border-top: 4px solid var(--ink); padding: 1.4rem 0 1.6rem;
  background: repeating-linear-gradient(90deg, var(--ink) 0 1px, transparent 1px 2.3rem) 0 0 / 100% 9px no-repeat,
    repeating-linear-gradient(90deg, var(--muted) 0 1px, transparent 1px .46rem) 0 0 / 100% 5px no-repeat;
}
main > section + section { margin-top: 3.25rem; }
main > section > h2 { border-top: 1px solid var(--ink); padding-top: .7rem; }
.contents { margin: 0 0 2rem; font: .85rem/1.45 var(--sans); }
.contents ol { margin: .4rem 0 0; padding: 0; list-style: none; }
.contents li { margin: .1rem 0; }
.contents li ol { margin: 0 0 0 1rem; }
.contents a { display: block; padding: .15rem 0; color: var(--ink); text-decoration-color: var(--rule); }
footer { margin-top: 4rem; border-top: 4px solid var(--ink); padding-top: 1rem; }
@media (min-width: 72rem) {
  body { display: grid; grid-template-columns: 12.5rem minmax(0, var(--full)); grid-template-rows: auto auto 1fr auto; gap: 0 3.5rem; max-width: 65rem; }
  header { grid-area: 2 / 2; }
  main { grid-area: 3 / 2; }
  footer { grid-area: 4 / 2; }
  .others { grid-area: 1 / 1 / 2 / 3; }
  .contents { grid-area: 2 / 1 / 5 / 2; margin: 0; }
  .contents summary { display: none; }
  .contents details { position: sticky; top: 0; padding: .9rem 0 1.1rem; border-top: 1px solid var(--ink); max-height: 100vh; overflow-y: auto; }
}
`;
