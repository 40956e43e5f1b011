import type {Method} from "../../lib/report/methods.ts";

/** How the intervals of all pages are made, and how often they held the truth where it was known. */
export const howSure: Method = {
  id: "how-sure",
  heading: "Intervals",
  text: "Intervals are for 95 of 100 cases. Squares of one lot are alike, so the lots are what counts: each is left out in turn, how far the figure then moves says how well it is known, and few lots make the interval wider (Student's law). A share has Wilson's limits at the number of independent squares that would scatter as much. Tried in simulated workshops whose truth was known, 92 to 98 of 100 such intervals held it, most of them 93 to 97. Approximate are those of the last half year (91 to 99 of 100), of orders to come (90 to 95), of the usable share behind the plan (90 to 94), of what a lot may still give (96 to 98), and of shares from fewer than four lots (86 to 93), which take squares as independent.",
  guide: "intervals"
};

/** What following the advice lost where the truth was known. */
export const howGood: Method = {
  id: "how-good",
  heading: "How good the advice has been",
  text: "In simulated workshops whose truth was known, buying by this advice missed 1 to 3 % of the profit of one who knows that truth but not the dice; (90 % quantile of demand − stock × yield) ÷ yield missed 1 to 9 %, last year's number 10 to 20 %.",
  guide: "how-far-the-numbers-can-be-trusted"
};
