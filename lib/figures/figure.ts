import type * as Plot from "@observablehq/plot";
import type {Table} from "../report/table.ts";

/** The space a figure is drawn in: once wide for a desk and paper, once narrow for a phone. */
export interface FigureSize {
  width: number;
  narrow: boolean;
}

/** One entry of the key above a figure, in the order of the marks. `color` is a CSS colour, mostly `var(--c1)`. */
export interface KeyEntry {
  label: string;
  color: string;
}

/** A figure as a description: nothing is drawn here. `scripts/draw.ts` turns `plot` into SVG. */
export interface Figure {
  /** Letters, digits and hyphens; the anchor in the page. */
  id: string;
  /** The finding, at most ten words, computed from the data. */
  title: string;
  /** Measure, unit, population, period. */
  subtitle: string;
  /** What a reader who cannot see it needs: the form, the extremes, the finding. */
  alt: string;
  /** What the intervals are, what is left out. */
  note?: string;
  key?: readonly KeyEntry[];
  /** Anchor of the method that the page's “How this is worked out” gives for it. */
  method?: string;
  /** Number of the notebook that goes through it step by step, such as "02". */
  notebook?: string;
  /** The numbers drawn: shown under the figure and as CSV. */
  table: Table;
  /** What is to be drawn, in the words of the drawing library; who draws hands that over, so that numbers alone never load it. */
  plot: (size: FigureSize, library: typeof Plot) => Plot.PlotOptions;
}
