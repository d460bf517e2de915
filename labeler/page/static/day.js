// @ts-check
// Today's batch: best before by the days it keeps, the label, the log, and the scaled recipe.
import { by, fill, grams, h, ready, tell, trim } from "./dom.js";
import { ask } from "./net.js";
import { doesNotFit, remember } from "./paper.js";

const root = by("day"), name = root.dataset.name ?? "", form = by("day-form"), field = form.elements;

function bestBefore() {
  if (!field.made.value || field.keeps.value === "") return;
  const day = new Date(`${field.made.value}T12:00:00Z`);
  day.setUTCDate(day.getUTCDate() + Number(field.keeps.value));
  field.best_before.value = day.toISOString().slice(0, 10);
}
const ownLot = field.lot.value;
field.made.addEventListener("change", () => {
  bestBefore();
  if (/-\d{4}$/.test(field.lot.value) && field.made.value) field.lot.value = `${ownLot.slice(0, ownLot.lastIndexOf("-"))}-${field.made.value.slice(5, 7)}${field.made.value.slice(8, 10)}`;
});
field.keeps.addEventListener("input", bestBefore);

function asked() {
  const said = /** @type {Record<string, any>} */ (Object.fromEntries(new FormData(form)));
  const wish = { layout: said.layout, size: said.size, sheet: said.sheet, start: said.sheet ? said.start : "", margins: said.sheet ? said.margins : "", copies: said.sheet ? said.packs || "1" : "", count_lots: field.count_lots.checked && !!said.sheet };
  return { name, packs: said.packs, grams: said.grams, made: said.made, best_before: said.best_before, lot: said.lot, wish };
}
const wrong = (/** @type {any} */ error) => tell("") ?? fill(by("day-said"), doesNotFit(error, (size) => { field.size.value = size; form.dispatchEvent(new Event("input")); fill(by("day-said")); by("day-preview").click(); }));
remember(form, `labeler day ${name}`, ["packs", "grams", "made", "best_before", "lot", "start"]);
bestBefore();

by("day-preview").addEventListener("click", async () => {
  tell("Drawing …");
  try {
    const made = await ask("/api/day", asked());
    tell("");
    if (!made) return;
    by("day-picture").src = made.picture;
    by("day-picture").alt = `The label: ${made.summary}`;
    by("day-picture").hidden = false;
    by("day-summary").textContent = made.summary;
    const problems = made.declared.problems;
    fill(by("day-said"), problems.length > 0 && h("details", { class: "notice doubt" }, h("summary", {}, `To settle before printing: ${problems.length}`), h("ul", {}, problems.map((/** @type {any} */ one) => h("li", {}, one.message)))));
  } catch (error) { wrong(error); }
});
form.addEventListener("submit", async (/** @type {Event} */ event) => {
  event.preventDefault();
  tell("Making the labels …");
  try {
    const made = await ask("/api/day-print", asked());
    if (!made) return;
    fill(by("day-said"), h("p", { class: "notice" }, `Logged as lot ${made.lot}: `, h("a", { href: made.pdf, id: "day-pdf" }, made.file), ` (${made.summary}). Print it at 100 %. `, h("a", { href: `/lots/${encodeURIComponent(made.lot)}` }, "What went into it")));
    by("day-pdf").focus();
    tell(`Lot ${made.lot} is logged.`);
  } catch (error) { wrong(error); }
});
ready();

// ---- scale

/** @type {any} */
let read = null;
let factor = 1, made = 0;
ask("/api/day-lines", { name }).then((found) => {
  if (!found?.rows) return;
  read = found;
  const makes = /^\s*(\d+(?:[.,]\d+)?)\s*(.*)$/.exec(found.head.makes ?? found.head.serves ?? "");
  made = makes ? Number(makes[1].replace(",", ".")) : 0;
  by("scale-unit").textContent = makes ? makes[2] || "portions" : "times the recipe";
  by("scale-to").value = made || 1;
  fill(by("scale-line"), h("option", { value: "" }, "a line …"), found.rows.filter((/** @type {any} */ row) => row.grams && !row.part).map((/** @type {any} */ row) => h("option", { value: row.line }, row.text)));
  draw();
}).catch(wrong);
by("scale-line").setAttribute("aria-label", "Line to use up");
by("scale-to").addEventListener("input", () => { factor = Number(by("scale-to").value) / (made || 1); by("scale-grams").value = ""; draw(); });
for (const id of ["scale-line", "scale-grams"]) by(id).addEventListener("input", () => {
  const row = read?.rows.find((/** @type {any} */ one) => String(one.line) === by("scale-line").value);
  if (!row) return;
  if (id === "scale-line") { by("scale-grams").value = trim(row.grams.best * factor, 1).replace(/,/g, ""); return; }
  factor = Number(by("scale-grams").value) / row.grams.best;
  by("scale-to").value = Number((factor * (made || 1)).toFixed(2));
  draw();
});
by("scale-print").addEventListener("click", () => print());

const FRACTIONS = [[0, ""], [0.125, "⅛"], [0.25, "¼"], [0.333, "⅓"], [0.5, "½"], [0.667, "⅔"], [0.75, "¾"], [1, ""]];
function amount(/** @type {any} */ one) {
  const scaled = (/** @type {number} */ value) => {
    const number = value * factor, metric = /^(milli|centi|deci)?lit|gram$|kilogram/.test(one.unit ?? "");
    if (metric || number > 20) return trim(number, number >= 100 ? 0 : 1);
    const whole = Math.floor(number), near = FRACTIONS.reduce((a, b) => Math.abs(Number(a[0]) - number + whole) <= Math.abs(Number(b[0]) - number + whole) ? a : b);
    return near[0] === 1 ? String(whole + 1) : `${whole || !near[1] ? whole : ""}${near[1]}`;
  };
  const range = one.high > one.low ? `${scaled(one.low)}–${scaled(one.high)}` : scaled(one.low);
  const unit = /** @type {Record<string, string>} */ ({ gram: "g", kilogram: "kg", milliliter: "ml", centiliter: "cl", deciliter: "dl", liter: "l", tablespoon: "tbsp", teaspoon: "tsp", ounce: "oz", pound: "lb" })[one.unit] ?? one.unit?.replace(/_/g, " ");
  return `${range}${unit ? ` ${unit}` : ""}`;
}
function draw() {
  if (!read) return;
  const parts = read.parts.filter((/** @type {any} */ part) => read.rows.some((/** @type {any} */ row) => row.line > part.line));
  const partOf = (/** @type {number} */ line) => parts.findLast((/** @type {any} */ part) => part.line <= line)?.title ?? "";
  let last = "";
  const rows = read.rows.map((/** @type {any} */ row) => {
    const part = partOf(row.line), first = part !== last;
    last = part;
    return [first && part && h("tr", { class: "of" }, h("th", { colspan: "3", scope: "rowgroup" }, part)),
      h("tr", {}, h("th", { scope: "row" }, row.part ? row.text : row.name || row.text), h("td", { class: "number" }, row.part ? "" : row.amounts.filter((/** @type {any} */ one) => one.role !== "same").slice(0, 1).map(amount).join(" ")), h("td", { class: "number" }, row.grams ? grams(row.grams.best * factor) : ""))];
  });
  fill(by("scaled"), h("caption", {}, `${trim(factor, 2)} times the recipe`), h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Line"), h("th", { scope: "col", class: "number" }, "Amount"), h("th", { scope: "col", class: "number" }, "Grams"))), h("tbody", {}, rows));
}
