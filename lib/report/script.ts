/**
 * The one script of a page: it adds to what stands there and is needed for nothing. The same text every time, so that one hash
 * in the page's security policy covers it; it makes no markup from text, loads nothing, sends nothing and keeps nothing.
 *
 * - Values: a mark that has a `<title>` shows it beside the pointer, on a tap, and with the arrow keys once its drawing has the
 *   focus; Escape puts it away. A screen reader hears it.
 * - Tables: the headings of a table of three rows or more sort it, up, down and back to how it stood; rows with nothing come last.
 * - Contents: where the list would stand before the main points, it is folded.
 * - Choice: where tables have suppliers or species, a choice above the page shows the rows of one only.
 *
 * Plain ES2020, as it runs in the reader's browser untouched. Checked: tests/report/script.test.ts, tests/browser/script.test.ts
 */
export const script: string = `(() => {
"use strict";
const d = document;
const all = (q, from = d) => [...from.querySelectorAll(q)];
const make = (name, props = {}, ...kids) => {
  const node = Object.assign(d.createElement(name), props);
  node.append(...kids);
  return node;
};

// Contents beside the text, or folded above it.
const list = d.querySelector(".contents details");
const wide = matchMedia("(min-width: 72rem)");
(wide.onchange = () => list && (list.open = wide.matches))();

// Values of marks.
const tip = make("div", {className: "tip", hidden: true});
const live = make("p", {className: "live"});
live.setAttribute("aria-live", "polite");
tip.setAttribute("aria-hidden", "true");
d.getElementById("main").append(tip, live);
const values = new Map();
for (const title of all(".drawing svg title")) {
  values.set(title.parentNode, title.textContent);
  title.remove();
}
const marksOf = (drawing) => [...values.keys()].filter((mark) => drawing.contains(mark) && mark.getClientRects().length > 0);
let at;
const hide = () => {
  tip.hidden = true;
  if (at) at.classList.remove("at");
  at = null;
};
const show = (mark, aloud) => {
  if (at !== mark) hide();
  at = mark;
  mark.classList.add("at");
  tip.textContent = values.get(mark);
  tip.hidden = false;
  const box = mark.getBoundingClientRect();
  const x = box.left + box.width / 2 - tip.offsetWidth / 2;
  tip.style.left = Math.max(8, Math.min(x, d.documentElement.clientWidth - tip.offsetWidth - 8)) + scrollX + "px";
  const above = box.top - tip.offsetHeight - 8;
  tip.style.top = (above < 0 ? box.bottom + 8 : above) + scrollY + "px";
  if (aloud) live.textContent = tip.textContent;
};
const nearest = (drawing, x, y) => {
  let best;
  let least = 24;
  for (const mark of marksOf(drawing)) {
    const {left, right, top, bottom} = mark.getBoundingClientRect();
    const far = Math.hypot(Math.max(left - x, 0, x - right), Math.max(top - y, 0, y - bottom));
    const off = far + Math.hypot(x - (left + right) / 2, y - (top + bottom) / 2) / 1e4;
    if (off < least) [best, least] = [mark, off];
  }
  return best;
};
for (const drawing of all(".drawing")) {
  if (![...values.keys()].some((mark) => drawing.contains(mark))) continue;
  drawing.tabIndex = 0;
  const point = (event) => {
    const mark = nearest(drawing, event.clientX, event.clientY);
    if (mark) show(mark);
    else hide();
  };
  drawing.addEventListener("pointermove", point);
  drawing.addEventListener("click", point);
  drawing.addEventListener("pointerleave", (event) => event.pointerType === "mouse" && hide());
  drawing.addEventListener("blur", hide);
  drawing.addEventListener("keydown", (event) => {
    const step = {ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1}[event.key];
    if (!step) return;
    event.preventDefault();
    const marks = marksOf(drawing);
    const now = marks.indexOf(at);
    show(marks[now < 0 ? (step > 0 ? 0 : marks.length - 1) : (now + step + marks.length) % marks.length], true);
  });
}
d.addEventListener("keydown", (event) => event.key === "Escape" && hide());

// Sorting.
const numberIn = (cell) => parseFloat(cell.firstChild ? cell.firstChild.textContent.replace(/\\u2212/g, "-").replace(/[^\\d.-]/g, "") : "");
for (const table of all(".table table")) {
  const body = table.tBodies[0];
  if (!body || body.rows.length < 3) continue;
  const before = [...body.rows];
  all("thead th", table).forEach((head, column, heads) => {
    const isNumber = head.classList.contains("num");
    const button = make("button", {type: "button", title: "Sort"}, ...head.childNodes);
    head.append(button);
    button.addEventListener("click", () => {
      const now = head.getAttribute("aria-sort");
      const next = now === null ? "ascending" : now === "ascending" ? "descending" : null;
      for (const other of heads) other.removeAttribute("aria-sort");
      if (next) head.setAttribute("aria-sort", next);
      const sign = next === "descending" ? -1 : 1;
      const key = (row) => (isNumber ? numberIn(row.cells[column]) : row.cells[column].textContent);
      const empty = (value) => (isNumber ? Number.isNaN(value) : /^[\\u2013]?$/.test(value));
      const compare = (a, b) => {
        const [x, y] = [key(a), key(b)];
        if (empty(x) || empty(y)) return empty(x) - empty(y);
        return sign * (isNumber ? x - y : x < y ? -1 : x > y ? 1 : 0);
      };
      body.append(...(next ? [...before].sort(compare) : before));
    });
  });
}

// Choosing.
const choices = ["Supplier", "Species"].flatMap((name) => {
  const columns = all(".table table").flatMap((table) => {
    const index = all("thead th", table).findIndex((head) => head.textContent.trim() === name);
    return index < 0 || !table.tBodies[0] ? [] : [{table, index}];
  });
  const words = new Set(columns.flatMap(({table, index}) => [...table.tBodies[0].rows].map((row) => row.cells[index].textContent)));
  words.delete("all");
  return words.size < 2 ? [] : [{name, columns, words: [...words].sort()}];
});
if (choices.length > 0) {
  const said = make("span", {className: "said"});
  said.setAttribute("role", "status");
  const selects = choices.map(({name, words}) => make("select", {id: "choice-" + name}, make("option", {value: ""}, "all"), ...words.map((word) => make("option", {value: word}, word))));
  const choose = () => {
    for (const row of all(".table tbody tr")) row.hidden = false;
    choices.forEach(({columns}, i) => {
      const word = selects[i].value;
      for (const {table, index} of columns) for (const row of table.tBodies[0].rows) if (word && row.cells[index].textContent !== word) row.hidden = true;
    });
    said.textContent = selects.some(({value}) => value) ? "Tables show these rows only; figures and sentences speak of all." : "";
  };
  const labels = choices.map(({name}, i) => make("span", {}, make("label", {htmlFor: selects[i].id}, name), " ", selects[i]));
  for (const select of selects) select.addEventListener("change", choose);
  const form = make("form", {className: "choice", onsubmit: () => false}, "Show in tables: ", ...labels, said);
  d.querySelector("main > section").after(form);
}
})();
`;
