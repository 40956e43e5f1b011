import type {Influence} from "../buying/whatItHangsOn.ts";
import {shown} from "../report/quantity.ts";
import {slug} from "./densityDots.ts";
import type {Figure} from "./figure.ts";

/** What the best number of squares becomes when one input is a tenth off, widest first. */
export function influences(rows: readonly Influence[], {species, planned}: {species: string; planned: number}): Figure {
  const inputs = [...new Set(rows.map(({input}) => input))];
  const reach = (input: string) =>
    Math.max(...rows.filter((row) => row.input === input).map(({difference}) => Math.abs(difference)));
  const ordered = inputs.toSorted((a, b) => reach(b) - reach(a));
  const bars = ordered.map((input) => {
    const [less, more] = ["a tenth less", "a tenth more"].map(
      (change) => rows.find((row) => row.input === input && row.change === change)?.squares
    );
    return {input, less, more}; // one of them may be missing: a change that makes no sense
  });
  const first = bars[0]!;
  return {
    id: `hangs-on-${slug(species)}`,
    title:
      reach(first.input) === 0 ? "A tenth off any input changes nothing" : `The number hangs most on ${first.input}`,
    subtitle: `Best number of ${species} squares when one input is a tenth lower or higher than taken; plan: ${shown(planned, "count")} squares`,
    alt: `Lines from the best number with an input a tenth less to that with a tenth more, plan ${shown(planned, "count")}, widest first. ${bars.map(({input, less, more}) => `${input}: ${shown(less, "count")} and ${shown(more, "count")}`).join("; ")}.`,
    method: "how-hangs",
    notebook: "04",
    note: "Dashed: the plan. One input is changed at a time, the others stay. The table says what is missed when the plan is kept all the same.",
    key: [
      {label: "a tenth less", color: "var(--c4)"},
      {label: "a tenth more", color: "var(--c1)"}
    ],
    table: {
      id: `hangs-on-${slug(species)}-data`,
      caption: `Best number of ${species} squares when one input is a tenth off`,
      columns: [
        {key: "input", heading: "Input", unit: "text"},
        {key: "change", heading: "Change", unit: "text"},
        {key: "squares", heading: "Best number", unit: "count"},
        {key: "difference", heading: "Against the plan", unit: "count"},
        {key: "profit", heading: `Profit then`, unit: "money whole"},
        {key: "regret", heading: "Missed by keeping the plan", unit: "money"}
      ],
      rows: ordered.flatMap((input) => rows.filter((row) => row.input === input).map((row) => ({...row})))
    },
    plot: ({narrow}, Plot) => ({
      height: 60 + bars.length * 26,
      x: {label: "squares →", nice: true, grid: true, ticks: narrow ? 4 : 8},
      y: {label: null, domain: ordered, type: "band"},
      marks: [
        Plot.ruleX([planned], {stroke: "var(--muted)", strokeDasharray: "4,3"}),
        Plot.ruleY(bars, {y: "input", x1: "less", x2: "more", stroke: "var(--c0)", strokeWidth: 2}),
        Plot.dot(bars, {
          y: "input",
          x: "less",
          r: 5,
          symbol: "diamond",
          fill: "var(--c4)",
          title: ({input, less}) => `${input} a tenth less: ${shown(less, "count")}`
        }),
        Plot.dot(bars, {
          y: "input",
          x: "more",
          r: 4.5,
          fill: "var(--c1)",
          title: ({input, more}) => `${input} a tenth more: ${shown(more, "count")}`
        })
      ]
    })
  };
}
