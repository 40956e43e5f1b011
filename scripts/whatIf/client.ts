import type * as Plot from "@observablehq/plot";
import {dot, lineY, plot, rectY, text} from "@observablehq/plot";
import {
  baseState,
  leastLots,
  parseState,
  stateText,
  type WhatIfAnswer,
  type WhatIfState,
  whatIfAnswer,
  whatIfFields,
  whatIfRanges
} from "../../lib/buying/whatIf.ts";
import {capital} from "../../lib/figures/densityDots.ts";
import type {Figure} from "../../lib/figures/figure.ts";
import {htmlText} from "../../lib/report/html.ts";
import {drawing} from "../draw/drawing.ts";
import {changeWords, panel, panelFigureHtml, panelFigures, type WhatIfData} from "./panel.ts";

/** What the figures of the panel draw with: the rest of the library stays out of the page. */
const library = {dot, lineY, plot, rectY, text} as typeof Plot;

/**
 * The what-if panel in the reader's browser: makes the form, works the plan out anew at each change by the code that made the page, and writes
 * the state into the address, from where it can be copied. Loads nothing, sends nothing, keeps nothing. Where it cannot run, the page stays as
 * it was printed.
 */
function start(data: WhatIfData): void {
  const {currency, species} = data;
  const first = baseState(data);
  const printed = whatIfAnswer(data, first)!;
  const own = leastLots(data.input);
  const at = (id: string) => document.getElementById(`what-if-${id}`)!;
  const make = <K extends keyof HTMLElementTagNameMap>(name: K, props: object = {}, ...kids: (Node | string)[]) => {
    const node = document.createElement(name);
    Object.assign(node, props);
    node.append(...kids);
    return node;
  };

  // Each field knows the word that it has in a link.
  interface Field {
    part: string;
    input: HTMLInputElement;
    /** What stands in it when nothing is changed. */
    unchanged: string;
  }
  const fields: Field[] = [];
  const field = (part: string, label: string, unchanged: string, range: {low: number; high: number}, step: string) => {
    const id = `what-if-field-${fields.length}`;
    const input = make("input", {id, type: "number", value: unchanged, step});
    input.min = String(range.low);
    input.max = String(range.high);
    fields.push({part, input, unchanged});
    return make("p", {}, make("label", {htmlFor: id}, label), " ", input);
  };
  const name = (text: string) => encodeURIComponent(text);
  const group = (legend: string, ...kids: Node[]) => make("fieldset", {}, make("legend", {}, legend), ...kids);
  const bySpecies = species.map((one) =>
    group(
      `${capital(one)}, % more or less`,
      ...whatIfFields.map(({key, word}) =>
        field(`${word}.${name(one)}`, capital(changeWords[key]), "0", whatIfRanges.pct, "1")
      )
    )
  );
  const all = group(
    "All species",
    field("goal", "Chance to serve every order, %", String(first.serviceGoalPct), whatIfRanges.goal, "0.1"),
    field(
      "budget",
      `Budget, ${currency} (empty: no limit)`,
      first.budget === undefined ? "" : String(first.budget),
      whatIfRanges.budget,
      "1"
    )
  );
  const least = group(
    "Least lot, squares of a species",
    ...Object.entries(own).map(([supplier, squares]) =>
      field(`least.${name(supplier)}`, supplier, String(squares), whatIfRanges.least, "1")
    )
  );
  const link = make("input", {id: "what-if-link", type: "text", readOnly: true});
  const copy = make("button", {type: "button"}, "Copy the link");
  const print = make("button", {type: "button"}, "Print");
  const reset = make("button", {type: "button"}, "Back to the plan as printed");
  const said = make("p", {className: "said"});
  said.setAttribute("role", "status");
  const form = make(
    "form",
    {onsubmit: () => false},
    ...bySpecies,
    all,
    least,
    make("p", {className: "acts"}, make("label", {htmlFor: link.id}, "Link to this"), " ", link, copy, print, reset),
    said
  );
  at("form").replaceChildren(form);

  /** The state that the fields say; throws where one holds no sound number. */
  function fieldState(): WhatIfState {
    const parts = fields.flatMap(({part, input, unchanged}) => {
      const value = input.validity.badInput ? "?" : input.value.trim();
      if (value === unchanged) return [];
      return [`${part}=${value === "" ? (part === "budget" ? "none" : "0") : value}`];
    });
    let fault: unknown;
    fields.forEach(({input}) => {
      input.removeAttribute("aria-invalid");
    });
    for (const part of parts) {
      try {
        parseState(data, part);
      } catch (error) {
        fault ??= error;
        const word = part.slice(0, part.indexOf("="));
        fields.find((one) => one.part === word)!.input.setAttribute("aria-invalid", "true");
      }
    }
    if (fault) throw fault;
    return parseState(data, parts.join("&"));
  }

  function show(state: WhatIfState): void {
    const text = stateText(data, state);
    const answer = text === "" ? printed : whatIfAnswer(data, state, printed.plan);
    const parts = panel(data, state, answer, printed);
    at("state").innerHTML = htmlText(parts.state);
    at("says").innerHTML = htmlText(parts.says);
    at("table").innerHTML = htmlText(parts.table);
    drawFigures(answer);
    at("panel").classList.toggle("changed", text !== "");
    link.value = `${location.href.split("#")[0]}#${mark}${text}`;
  }

  /** The drawings that are seen at once, those for the other width when there is time. */
  let later = 0;
  function drawFigures(answer: WhatIfAnswer | undefined): void {
    clearTimeout(later);
    const figures = answer ? panelFigures(data, answer) : [];
    const draw = (sizes: readonly ("wide" | "narrow")[]) => {
      at("figures").innerHTML = figures
        .map((figure) => {
          const drawings = Object.fromEntries(sizes.map((size) => [size, drawn(figure, size)]));
          return htmlText(panelFigureHtml(figure, drawings));
        })
        .join("");
    };
    const seen = matchMedia("(min-width: 48rem)").matches ? "wide" : "narrow";
    draw([seen]);
    later = window.setTimeout(() => draw(["wide", "narrow"]), 400);
  }

  /** A drawing, or nothing where its labels find no room: its numbers stand in the sentences. */
  function drawn(figure: Figure, size: "wide" | "narrow"): string {
    try {
      return drawing(figure, size, {document, library});
    } catch (error) {
      if (error instanceof RangeError) return "";
      throw error;
    }
  }

  function changed(): void {
    try {
      const state = fieldState();
      show(state);
      const text = stateText(data, state);
      // An address without a state is left alone: it may lead to a place in the page.
      if (text !== "" || location.hash.startsWith(`#${mark}`))
        history.replaceState(null, "", text === "" ? location.href.split("#")[0] : `#${mark}${text}`);
      said.textContent = "";
    } catch (error) {
      said.textContent = `Not worked out: ${error instanceof Error ? error.message : error}`;
    }
  }

  /** The fields and the panel as the address says. */
  function fromAddress(): boolean {
    if (!location.hash.startsWith(`#${mark}`)) return false;
    try {
      const state = parseState(data, location.hash.slice(mark.length + 1));
      for (const {input, unchanged} of fields) input.value = unchanged;
      for (const part of stateText(data, state).split("&")) {
        const [word, value = ""] = part.split("=");
        const one = fields.find((other) => other.part === word);
        if (one) one.input.value = value === "none" ? "" : value;
      }
      changed();
      at("panel").scrollIntoView();
      return true;
    } catch (error) {
      said.textContent = `The link was not understood: ${error instanceof Error ? error.message : error}`;
      return false;
    }
  }

  // Changes that come faster than they are worked out are worked out together.
  let waiting = 0;
  form.addEventListener("input", (event) => {
    if (event.target === link) return;
    cancelAnimationFrame(waiting);
    waiting = requestAnimationFrame(changed);
  });
  reset.addEventListener("click", () => {
    for (const {input, unchanged} of fields) input.value = unchanged;
    changed();
  });
  print.addEventListener("click", () => window.print());
  copy.addEventListener("click", async () => {
    link.focus();
    link.select();
    try {
      await navigator.clipboard.writeText(link.value);
      said.textContent = "The link is copied.";
    } catch {
      said.textContent = "The link is marked: copy it by hand.";
    }
  });
  window.addEventListener("hashchange", fromAddress);
  if (!fromAddress()) show(first);
}

/** Stands before a state in an address. */
const mark = "what-if:";

const block = document.getElementById("season-input");
// Browsers of before 2023 lack this, and show the page as it was printed.
if (block && "with" in Array.prototype) start(JSON.parse(block.textContent ?? "") as WhatIfData);
