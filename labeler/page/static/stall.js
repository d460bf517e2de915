// @ts-check
// The stall's matrix, and what is made of it.
import { by, fill, h, ready, tell } from "./dom.js";
import { ask } from "./net.js";
import { copy, save } from "./paper.js";

const market = () => by("market").value;

async function draw() {
  const place = by("matrix");
  try {
    const found = await ask("/api/matrix", { market: market() });
    if (!found) return;
    fill(place, found.foods.length === 0 ? h("p", {}, "No recipe of this folder can be read yet.") : table(found),
      found.refused.length > 0 && h("ul", { class: "problems" }, found.refused.map((/** @type {any} */ one) => h("li", { class: "hurt" }, `${one.name} cannot be read and is not in this table: ${one.said}`))),
      h("h2", {}, "Statements to copy"), found.details.filter((/** @type {any} */ one) => !one.refused).map(statement));
  } catch (error) { fill(place, h("p", { class: "notice hurt" }, /** @type {any} */ (error).message)); }
}

const recipe = (/** @type {string} */ name) => `/recipe/${name.split("/").map(encodeURIComponent).join("/")}`;

function table(/** @type {any} */ found) {
  const readable = found.details.filter((/** @type {any} */ one) => !one.refused);
  const address = (/** @type {any} */ food) => readable.find((/** @type {any} */ one) => one.title === food.title)?.name;
  const mark = (/** @type {any} */ food, /** @type {string} */ one) => food.contains.includes(one) ? h("td", { class: "has" }, "yes")
    : food.read_the_package.includes(one) ? h("td", { class: "asks" }, address(food) ? h("a", { href: `${recipe(address(food))}#allergens`, "aria-label": `Read the package: ${found.names[one]} in ${food.title}` }, "read the package") : "read the package") : h("td", { class: "none" }, "–", h("span", { class: "unseen" }, " not found"));
  const held = found.allergens.filter((/** @type {string} */ one) => found.foods.some((/** @type {any} */ food) => food.contains.includes(one) || food.read_the_package.includes(one)));
  const others = found.allergens.filter((/** @type {string} */ one) => !held.includes(one)).map((/** @type {string} */ one) => found.names[one]);
  return [h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": "Which food holds which allergen" }, h("table", { class: "matrix" },
    h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Food"), held.map((/** @type {string} */ one) => h("th", { scope: "col" }, found.names[one])))),
    h("tbody", {}, found.foods.map((/** @type {any} */ food) => h("tr", {}, h("th", { scope: "row" }, food.title), held.map((/** @type {string} */ one) => mark(food, one))))))),
    others.length > 0 && h("p", { class: "soft" }, `Asked about too, and named by no recipe here: ${others.join(", ")}. That is no promise: traces and packages are not in it.`)];
}

const statement = (/** @type {any} */ food) => h("p", { class: "statement" }, h("a", { href: recipe(food.name) }, food.title), `: ${food.statement || "nothing of the list was found"} `,
  food.statement && h("button", { type: "button", class: "small", "aria-label": `Copy the statement of ${food.title}`, click: () => copy(food.statement, "The statement") }, "Copy"));

by("market").addEventListener("change", draw);
for (const [id, path] of [["phone", "/api/phone"], ["hang", "/api/matrix-sheet"]]) {
  by(id).addEventListener("click", async () => {
    tell("Making it …");
    try { const made = await ask(path, { market: market() }); if (made) { save(made.file, made.name); tell(`${made.name} is among your downloads.`); } }
    catch (error) { tell(/** @type {any} */ (error).message, "hurt"); }
  });
}
ready();
draw();
