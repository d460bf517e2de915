// @ts-check
// The plate: what is in a serving, 100 g and the batch, how sure that is, and what to weigh next.
import { fill, grams, h, short } from "./dom.js";
import { range } from "./line.js";

const ROWS = [
  ["ENERC_KCAL", "Energy", "kcal", 0], ["FAT", "Fat", "g", 0], ["FASAT", "saturated", "g", 1], ["FATRN", "trans", "g", 1],
  ["CHOCDF", "Carbohydrate", "g", 0], ["SUGAR", "sugars", "g", 1], ["SUGAR_ADDED", "added sugars", "g", 1], ["FIBTG", "Fibre", "g", 0],
  ["PROCNT", "Protein", "g", 0], ["NA", "Sodium", "mg", 0], ["CHOLE", "Cholesterol", "mg", 0], ["CA", "Calcium", "mg", 0],
  ["FE", "Iron", "mg", 0], ["K", "Potassium", "mg", 0], ["VITD", "Vitamin D", "µg", 0],
];
const BASES = [["per_serving", "a serving"], ["per_100g", "100 g"], ["batch", "the batch"]];
let basis = "per_serving";

/**
 * @param {any} place
 * @param {{figures: any, before: any, advice: any, stale: boolean, act: Record<string, (...given: any[]) => void>}} now
 */
export function showPlate(place, now) {
  const { figures, before, act } = now;
  if (!figures) { fill(place, h("h2", {}, "Plate"), h("p", { class: "soft" }, "The figures come as soon as the recipe has an ingredient.")); return; }
  const values = figures[basis], old = before?.[basis];
  const choose = h("fieldset", { class: "choice" }, h("legend", { class: "unseen" }, "Per"), BASES.map(([key, word]) =>
    h("label", {}, h("input", { type: "radio", name: "basis", "data-key": key, value: key, checked: key === basis, change: () => { basis = key; showPlate(place, now); } }), h("span", {}, word))));
  fill(place,
    h("h2", {}, "Plate"),
    h("p", {}, h("strong", {}, `${short(figures.servings)} × ${grams(figures.serving_g)}`), h("span", { class: "soft" }, ` ${figures.serving_basis}`), now.stale && h("span", { class: "soft" }, " · counting …")),
    serving(figures, act), choose,
    h("table", { class: "values", "aria-busy": now.stale ? "true" : "false" },
      h("caption", { class: "unseen" }, `Per ${BASES.find(([key]) => key === basis)?.[1]}, with the range that holds it 19 times of 20`),
      h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Of"), h("th", { scope: "col", class: "number" }, "Best"), h("th", { scope: "col" }, "Range"), old && h("th", { scope: "col", class: "number" }, "Change"))),
      h("tbody", {}, ROWS.map(([tag, word, unit, level]) => values[/** @type {string} */ (tag)] && value(/** @type {any} */ (word), /** @type {any} */ (unit), /** @type {any} */ (level), values[/** @type {string} */ (tag)], old?.[/** @type {string} */ (tag)], !!old)))),
    h("p", { class: "buttons" }, before
      ? [h("button", { type: "button", class: "small", "data-key": "compare", click: act.compareOff }, "End the comparison"), h("span", { class: "soft" }, "Change counts from where the comparison began; Undo takes a change back.")]
      : h("button", { type: "button", class: "small", "data-key": "compare", click: act.compareOn }, "Compare changes from here")),
    h("section", {}, h("h3", {}, "What to measure next"), advice(now.advice, act)),
    brings(now),
  );
}

function value(/** @type {string} */ word, /** @type {string} */ unit, /** @type {number} */ level, /** @type {any} */ one, /** @type {any} */ old, /** @type {boolean} */ compared) {
  const known = one.best !== null;
  const least = one.status === "missing";
  const moved = old && known && old.best !== null ? one.best - old.best : null;
  return h("tr", {},
    h("th", { scope: "row", class: level ? "under" : "" }, word),
    h("td", { class: "number" }, known ? [least && h("span", { title: "at least" }, h("span", { class: "unseen" }, "at least "), h("span", { "aria-hidden": "true" }, "≥ ")), `${short(one.best)} ${unit}`] : "not known"),
    h("td", { class: "span" }, known && one.low !== null && one.high !== null ? [range(one.low, one.best, one.high, Math.max(one.high * 1.1, 1e-9)), h("span", { class: "soft" }, `${short(one.low)} to ${short(one.high)}`)] : h("span", { class: "soft" }, least ? "open above" : "")),
    compared && h("td", { class: "number" }, moved === null ? "" : Math.abs(moved) < 0.005 * Math.abs(old.best || 1) ? "same" : `${moved > 0 ? "+" : "−"}${short(Math.abs(moved))}`));
}

function serving(/** @type {any} */ figures, /** @type {any} */ act) {
  if (figures.market === "us" || figures.market === "ca") {
    return h("p", { class: "soft" }, "On a panel of this market the law fixes the serving. For the post and the card, write “serving: 30 g” in the head.");
  }
  const batch = Math.max(figures.batch_g || figures.serving_g * figures.servings, 1);
  const top = Math.max(Math.min(batch, 1000), figures.serving_g * 1.5);
  const field = h("input", { type: "number", id: "serving-g", "data-key": "serving-g", min: "1", step: "1", value: String(Math.round(figures.serving_g)) });
  const drag = h("input", { type: "range", id: "serving-drag", "data-key": "serving-drag", min: "1", max: String(Math.round(top)), value: String(Math.round(figures.serving_g)), "aria-label": "Serving in grams",
    input: () => { field.value = drag.value; }, change: () => act.head("serving", `${drag.value} g`) });
  return h("form", { class: "joined", submit: (/** @type {Event} */ event) => { event.preventDefault(); act.head("serving", `${field.value} g`); } },
    h("label", { for: "serving-g" }, "Serving"), field, h("span", {}, "g"), drag, h("button", { type: "submit", "data-key": "serving-set" }, "Set"));
}

/** What was measured since the page was opened, in words. @type {string[]} */
const measured = [];

function advice(/** @type {any} */ list, /** @type {any} */ act) {
  const done = measured.length > 0 && h("ul", { class: "ticks done" }, measured.map((one) => h("li", {}, h("span", { "aria-hidden": "true" }, "✓ "), one)));
  if (!list) return [done, h("p", { class: "soft" }, "Looking for what would help most …")];
  if (!list.length) return [done, h("p", {}, "Nothing that you could measure would narrow a range by much.")];
  return [done, h("ol", { class: "advice" }, list.map((/** @type {any} */ one) => step(one, act)))];
}

/** One thing to measure: ticked once its number is there, which writes it into the recipe. */
function step(/** @type {any} */ one, /** @type {any} */ act) {
  const { mend } = one, words = `${one.measure.charAt(0).toUpperCase()}${one.measure.slice(1).replace(/,$/, "")}`;
  const narrows = h("span", { class: "soft" }, ` narrows the range of ${NAMES[one.nutrient] ?? one.nutrient} by ${Math.round(one.removes * 100)} %`);
  if (mend.kind === "package") return h("li", {}, h("strong", {}, words), narrows, h("p", {}, h("a", { class: "button small", href: `/larder?name=${encodeURIComponent(mend.name)}&back=1#add` }, "Type its panel")));
  if (!mend.number) return h("li", {}, h("strong", {}, words), narrows, h("p", { class: "buttons" }, h("button", { type: "button", class: "small", click: () => act.measured(mend, null) }, "It is the first"), mend.line && h("button", { type: "button", class: "small", click: () => act.goTo(mend.line) }, "Choose another")));
  const number = h("input", { type: "number", "data-key": `measure ${one.measure}`, min: "0", step: "any", inputmode: "decimal", placeholder: mend.number, "aria-label": `${words}: grams` });
  const write = () => { measured.push(`${words}: ${number.value} g`); act.measured(mend, number.value); };
  const tick = h("input", { type: "checkbox", "data-key": `tick ${one.measure}`, change: () => { if (number.value) write(); else { tick.checked = false; number.focus(); } } });
  return h("li", {}, h("label", { class: "tick" }, tick, h("span", {}, words)), narrows,
    h("form", { class: "joined", submit: (/** @type {Event} */ event) => { event.preventDefault(); if (number.value) write(); else number.focus(); } }, number, h("span", {}, "g"), h("button", { type: "submit" }, "Write it in")));
}

/** @type {Record<string, string>} */
const NAMES = { ENERC_KCAL: "energy", FAT: "fat", FASAT: "saturated fat", CHOCDF: "carbohydrate", SUGAR: "sugars", PROCNT: "protein", NA: "sodium" };

const BROUGHT = [["NA", "sodium", "mg"], ["ENERC_KCAL", "energy", "kcal"], ["FAT", "fat", "g"], ["FASAT", "saturated fat", "g"], ["CHOCDF", "carbohydrate", "g"], ["SUGAR", "sugars", "g"], ["FIBTG", "fibre", "g"], ["PROCNT", "protein", "g"]];
let brought = "NA";

/** What brings a figure, before and after handling: asked for when it is opened. */
function brings(/** @type {any} */ now) {
  const place = h("div", {});
  const draw = (/** @type {any[]} */ rows) => {
    const [tag, word, unit] = /** @type {any} */ (BROUGHT.find(([key]) => key === brought)), known = rows.filter((row) => row.put_in[tag] !== null);
    const most = Math.max(...known.map((row) => Math.max(row.put_in[tag], row.in_dish[tag] ?? 0)), 1e-9);
    known.sort((a, b) => (b.in_dish[tag] ?? 0) - (a.in_dish[tag] ?? 0));
    fill(place,
      h("label", { class: "inline" }, "Of", h("select", { "data-key": "brought", change: (/** @type {any} */ event) => { brought = event.target.value; draw(rows); } }, BROUGHT.map(([key, name]) => h("option", { value: key, selected: key === brought }, name)))),
      h("table", {}, h("caption", {}, `${word}, ${unit}, in the whole batch: what goes in, and what is on the plate`),
        h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Ingredient"), h("th", { scope: "col", class: "number" }, "In"), h("th", { scope: "col", class: "number" }, "Plate"), h("th", { scope: "col" }, h("span", { class: "unseen" }, "Share")))),
        h("tbody", {}, known.slice(0, 15).map((row) => h("tr", {}, h("th", { scope: "row" }, row.name), h("td", { class: "number" }, short(row.put_in[tag])), h("td", { class: "number" }, short(row.in_dish[tag])), h("td", { class: "span" }, range(row.in_dish[tag] ?? 0, row.put_in[tag], row.put_in[tag], most)))))));
  };
  const box = h("details", { open: openBrings, toggle: async () => {
    openBrings = box.open;
    if (!box.open || place.firstChild) return;
    fill(place, h("p", { class: "soft" }, "Adding up …"));
    try { const rows = await now.act.brings(); if (rows) draw(rows); } catch (error) { fill(place, h("p", { class: "notice hurt" }, /** @type {any} */ (error).message)); }
  } }, h("summary", {}, h("strong", {}, "What brings what, before and after handling")), place);
  return h("section", {}, box, now.figures.parts.map((/** @type {any} */ part) =>
    h("p", {}, h("strong", {}, part.title || "The recipe"), ` ${grams(part.grams_in)} went in, ${grams(part.grams_kept)} are left.`)));
}
let openBrings = false;
