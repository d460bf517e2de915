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
    found.read_the_package.length > 0 && h("section", {}, h("h3", {}, "Read the package"),
      h("ul", { class: "ticks" }, found.read_the_package.map((/** @type {any} */ one) => h("li", {},
        h("strong", {}, `${one.food || one.from}: ${one.names.join(", ")}`), ` ${one.reason} · `, where(one), " ",
        h("a", { class: "button small", href: `/larder?name=${encodeURIComponent(one.food)}&back=1#add` }, "I have read it"))))),
    found.unassessed.length > 0 && h("section", {}, h("h3", {}, "Not known to the word list"), h("p", {}, `${found.unassessed.join(", ")}. Look for yourself what they hold.`)),
    found.cautions.length > 0 && h("section", {}, h("h3", {}, "Cautions"),
      h("ul", { class: "problems" }, found.cautions.map((/** @type {any} */ one) => h("li", { class: "hurt" }, one.text, h("span", { class: "soft" }, ` ${one.citation}${one.place === "label" ? " · on the label" : " · for the cook"}`))))),
    h("p", { class: "soft" }, "Found by the words of the recipe, the table and the rules of the market. Your local authority has the last word."),
  );
}
