/** Tables: rules across, none down; numbers under each other; one too wide for the page scrolls by itself. */
export const tableStyle = `
.table {
  overflow-x: auto; margin: 1rem 0 .5rem;
  background: linear-gradient(90deg, var(--ground) 40%, transparent) -1px 0 / 2.5rem 100% local no-repeat,
    linear-gradient(270deg, var(--ground) 40%, transparent) calc(100% + 1px) 0 / 2.5rem 100% local no-repeat,
    linear-gradient(90deg, var(--rule), transparent) 0 0 / .6rem 100% scroll no-repeat,
    linear-gradient(270deg, var(--rule), transparent) 100% 0 / .6rem 100% scroll no-repeat;
}
table { border-collapse: collapse; font: .82rem/1.4 var(--sans); font-variant-numeric: lining-nums tabular-nums; }
caption { padding: 0 0 .5rem; text-align: left; font-weight: 600; }
th, td { padding: .32rem .8rem .32rem 0; vertical-align: baseline; }
th:last-child, td:last-child { padding-right: 0; }
th { text-align: left; }
thead th { border-block: 1px solid var(--ink); vertical-align: bottom; font-weight: 600; line-height: 1.3; }
tbody tr { border-bottom: 1px solid var(--rule); }
tbody tr:last-child { border-bottom-color: var(--ink); }
tbody th { font-weight: 400; }
td { text-align: right; }
td, td small, .short, .unit { white-space: nowrap; }
.text, .short { text-align: left; }
.text { white-space: normal; }
.num { min-width: 3.25rem; text-align: right; }
.unit, td small { color: var(--muted); font-size: 1em; font-weight: 400; }
.facts { display: grid; grid-template-columns: max-content 1fr; gap: .2rem 1.5rem; font: .85rem/1.45 var(--sans); max-width: none; }
.facts dt { color: var(--muted); }
.facts dd { margin: 0; min-width: 0; }
.hashes { margin: 1.5rem 0 .5rem; }
.hash { overflow-wrap: anywhere; font-family: monospace; }
`;
