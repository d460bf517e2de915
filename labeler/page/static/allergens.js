// @ts-check
// Allergens with their evidence, what only a package can settle, and cautions.
import { fill, h } from "./dom.js";

/** @param {any} place @param {{found: any, stale: boolean, act: Record<string, (...given: any[]) => void>}} now */
export function showAllergens(place, now) {
  const { found, act } = now;
  if (!found) { fill(place, h("h2", {}, "Allergens"), h("p", { class: "soft" }, "These come as soon as the recipe has an ingredient.")); return; }
  const groups = new Map();
  for (const one of found.contains) groups.set(one.allergen, [...(groups.get(one.allergen) ?? []), one]);
  const where = (/** @type {any} */ one) => one.line
    ? h("button", { type: "button", class: "link", click: () => act.goTo(one.line) }, `line ${one.line}`) : h("span", { class: "soft" }, one.from);
  fill(place,
    h("h2", {}, "Allergens"), now.stale && h("p", { class: "soft" }, "Looking again …"),
    found.statement && h("p", { class: "statement" }, found.statement, " ", h("button", { type: "button", class: "small", click: () => act.copy(found.statement, "The statement") }, "Copy")),
    groups.size === 0 && h("p", {}, "None of the market’s list was found in these lines. That is no promise: packages and shared boards bring them too."),
    [...groups].map(([allergen, list]) => h("section", { class: "allergen" },
      h("h3", {}, allergen, h("span", { class: "soft" }, ` ${[...new Set(list.flatMap((/** @type {any} */ one) => one.names))].join(", ")}`)),
      h("ul", {}, list.map((/** @type {any} */ one) => h("li", {}, one.reason, " · ", where(one)))))),
    packages(found, act, where),
    found.unassessed.length > 0 && h("section", {}, h("h3", {}, "Not known to the word list"), h("p", {}, `${found.unassessed.join(", ")}. Look for yourself what they hold.`)),
    found.cautions.length > 0 && h("section", {}, h("h3", {}, "Cautions"),
      h("ul", { class: "problems" }, found.cautions.map((/** @type {any} */ one) => h("li", { class: "hurt" }, one.text, h("span", { class: "soft" }, ` ${one.citation}${one.place === "label" ? " · on the label" : " · for the cook"}`))))),
    h("p", { class: "soft" }, "Found by the words of the recipe, the table and the rules of the market. Your local authority has the last word."),
  );
}

/** What only a package can settle: ticked and typed as it is read, it goes into the larder. */
function packages(/** @type {any} */ found, /** @type {any} */ act, /** @type {(one: any) => any} */ where) {
  /** @type {Map<string, any[]>} */
  const asked = new Map();
  for (const one of found.read_the_package) asked.set(one.food || one.from, [...(asked.get(one.food || one.from) ?? []), one]);
  return asked.size > 0 && h("section", {}, h("h3", {}, "Read the package"),
    h("p", { class: "soft" }, "Take each package in your hand, tick what it names, and type its list: it goes into the larder, and every recipe of this folder knows it."),
    h("ul", { class: "ticks" }, [...asked].map(([food, list]) => h("li", {}, form(food, list, act, where)))));
}

function form(/** @type {string} */ food, /** @type {any[]} */ list, /** @type {any} */ act, /** @type {(one: any) => any} */ where) {
  const said = h("div", { role: "status" });
  const names = [...new Map(list.map((one) => [one.allergen, one.names.join(", ")]))];
  const ticks = names.map(([allergen, word]) => h("input", { type: "checkbox", name: "names", value: allergen, "data-key": `names ${food} ${allergen}`, "data-word": word }));
  const printed = h("textarea", { rows: "2", "data-key": `list ${food}`, "aria-label": `Ingredients as printed on the package of ${food}` });
  return h("form", { submit: async (/** @type {Event} */ event) => {
    event.preventDefault();
    const contains = ticks.filter((one) => one.checked).map((one) => one.dataset.word);
    if (!contains.length && !printed.value.trim()) { fill(said, h("p", { class: "notice doubt" }, "Type the list as it is printed: where nothing is ticked, only the list can tell.")); return; }
    try { await act.packageRead(food, contains, printed.value); }
    catch (error) { fill(said, h("p", { class: "notice hurt" }, /** @type {any} */ (error).message)); }
  } },
  h("p", {}, h("strong", {}, food), " · ", where(list[0])),
  h("p", { class: "soft" }, [...new Set(list.map((one) => one.reason))].join("; ")),
  h("fieldset", { class: "buttons" }, h("legend", {}, "It names"), ticks.map((tick, at) => h("label", { class: "tick" }, tick, names[at][1]))),
  h("label", {}, "Ingredients as printed", printed),
  h("p", { class: "buttons" }, h("button", { type: "submit", class: "small", "data-key": `read ${food}` }, "I have read it: into the larder"),
    h("a", { class: "button small", href: `/larder?name=${encodeURIComponent(food)}&back=1#add` }, "Type its panel too")), said);
}
