// @ts-check
// The line where the cursor stands: its food, its grams, how sure, and what mends it.
import { fill, grams, h, short } from "./dom.js";
import { ask } from "./net.js";
import { MARKS, WORDS } from "./margin.js";

const COLUMNS = [["ENERC_KCAL", "kcal"], ["FAT", "fat"], ["CHOCDF", "carb."], ["PROCNT", "protein"], ["NA", "sodium mg"]];

/** A range on a scale of its own: low, best and high. */
export function range(/** @type {number} */ low, /** @type {number} */ best, /** @type {number} */ high, /** @type {number} */ top = high * 1.15) {
  const at = (/** @type {number} */ value) => top > 0 ? Math.max(0, Math.min(100, value / top * 100)) : 0;
  const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  svg.setAttribute("class", "range");
  svg.setAttribute("aria-hidden", "true");
  svg.setAttribute("viewBox", "0 0 100 10");
  svg.setAttribute("preserveAspectRatio", "none");
  for (const [kind, x, width] of /** @type {[string, number, number][]} */ ([
    ["ground", 0, 100], ["least", 0, at(low)], ["open", at(low), Math.max(at(high) - at(low), 0.4)], ["best", Math.max(at(best) - 0.5, 0), 1],
  ])) {
    const bar = svg.appendChild(document.createElementNS(svg.namespaceURI, "rect"));
    bar.setAttribute("class", kind);
    bar.setAttribute("x", String(x));
    bar.setAttribute("y", kind === "best" ? "0" : "2");
    bar.setAttribute("width", String(width));
    bar.setAttribute("height", kind === "best" ? "10" : "6");
  }
  return svg;
}

/**
 * @param {any} place
 * @param {{line: number, text: string, row: any, problems: any[], name: string, act: Record<string, (...given: any[]) => void>}} now
 */
export function showLine(place, now) {
  const { row, act } = now;
  const problems = row ? row.problems : now.problems.filter((one) => one.line === now.line);
  const mends = row?.mends ?? [];
  const others = now.problems.filter((one) => one.line === null);
  fill(place,
    h("h2", {}, `Line ${now.line}`, h("span", { class: "soft said" }, now.text.trim() || "an empty row")),
    row && row.part && h("p", {}, `Takes from the part “${row.part}”`, row.grams && `: ${grams(row.grams.best)}.`),
    row && !row.part && weight(row),
    problems.length > 0 && h("ul", { class: "problems" }, problems.map((/** @type {any} */ one) => h("li", { class: row?.sure === "sure" ? "doubt" : "hurt" }, one.message))),
    mends.length > 0 && h("p", { class: "buttons", "aria-label": "Mends", role: "group" }, mends.map((/** @type {any} */ mend, /** @type {number} */ at) =>
      h("button", { type: "button", class: at ? "small" : "small main", "data-key": `mend ${at}`, click: () => act.mend(mend) }, mend.label))),
    row && !row.part && weigh(row, act),
    row && !row.part && foodOf(row, now.name, act),
    !row && h("p", { class: "soft" }, now.text.trim().startsWith(">") || /^\d/.test(now.text.trim()) ? "A step of the method. What it does is under Method." : "No ingredient stands on this row. Put the cursor on one to see its food and grams."),
    others.length > 0 && h("section", {}, h("h3", {}, "Of the whole recipe"), h("ul", { class: "problems" }, others.map((one) => h("li", { class: "doubt" }, one.message)))),
  );
}

function weight(/** @type {any} */ row) {
  if (!row.grams) return h("p", { class: "big open" }, "? g", h("span", { class: "soft" }, " no weight found"));
  const { best, low, high, basis } = row.grams;
  return [
    h("p", { class: "big" }, grams(best), high > low && h("span", { class: "soft" }, ` ${grams(low)} to ${grams(high)}`),
      h("span", { class: `sureness ${row.sure}` }, `${MARKS[/** @type {keyof typeof MARKS} */ (row.sure)]} ${WORDS[/** @type {keyof typeof WORDS} */ (row.sure)]}`)),
    range(low, best, high),
    h("p", { class: "soft" }, basis),
  ];
}

function weigh(/** @type {any} */ row, /** @type {any} */ act) {
  const field = h("input", { type: "number", min: "0", step: "any", inputmode: "decimal", id: "weighed", "data-key": `weighed ${row.line}`, placeholder: row.grams ? short(row.grams.best).replace(/,/g, "") : "" });
  return h("form", { class: "joined", submit: (/** @type {Event} */ event) => { event.preventDefault(); if (field.value) act.pin({ grams: field.value }); } },
    h("label", { for: "weighed" }, "The scale says"), field, h("span", {}, "g"), h("button", { type: "submit", "data-key": "weigh" }, "Write it in"));
}

function foodOf(/** @type {any} */ row, /** @type {string} */ name, /** @type {any} */ act) {
  const found = h("div", { id: "found-foods" });
  const field = h("input", { type: "search", id: "food-query", "data-key": `food-query ${row.line}`, autocomplete: "off", value: row.name || "" });
  const form = h("form", { class: "joined", role: "search", submit: async (/** @type {Event} */ event) => {
    event.preventDefault();
    await search(field.value, name, found, row, act);
  } }, h("label", { for: "food-query" }, "Another food"), field, h("button", { type: "submit", "data-key": "search" }, "Search"));
  return [
    h("h3", {}, "Food"),
    row.food ? h("p", {}, h("strong", {}, row.food.description), h("span", { class: "soft" }, ` ${row.food.id} · ${row.match.reason}`)) : h("p", { class: "open" }, "No food of the table or of your larder has this name."),
    form, found,
    h("p", {}, h("a", { href: `/larder?name=${encodeURIComponent(row.name || "")}&back=1#add` }, "It comes in a package: put it into the larder")),
  ];
}

async function search(/** @type {string} */ query, /** @type {string} */ name, /** @type {any} */ place, /** @type {any} */ row, /** @type {any} */ act) {
  const answer = await ask("/api/foods", { query, name });
  if (!answer) return;
  const chosen = (/** @type {string} */ id) => row.food?.id === id;
  fill(place,
    answer.own.length > 0 && h("p", {}, "In your larder: ", answer.own.map((/** @type {any} */ one) => h("button", { type: "button", class: "small", click: () => act.word(row.name, one.name) }, one.name))),
    answer.candidates.length === 0 && answer.own.length === 0 && h("p", { class: "open" }, "Nothing of this name. Try a plainer word, such as “cheese”."),
    answer.candidates.length > 0 && h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": "Foods found" }, h("table", {},
      h("caption", {}, "Per 100 g"),
      h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Food"), COLUMNS.map(([, word]) => h("th", { scope: "col", class: "number" }, word)))),
      h("tbody", {}, answer.candidates.map((/** @type {any} */ one) => h("tr", { class: chosen(one.id) ? "chosen" : "" },
        h("th", { scope: "row" }, h("button", { type: "button", class: "link", "data-key": `food ${one.id}`, click: () => act.pin({ food: one.id }) }, one.description), chosen(one.id) && h("span", { class: "soft" }, " now")),
        COLUMNS.map(([tag]) => h("td", { class: "number" }, short(one.per_100g[tag])))))))),
  );
  place.querySelector("button")?.focus();
}
