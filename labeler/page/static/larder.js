// @ts-check
// The larder: finding a package, adding one, changing one.
import { by, fill, h, ready } from "./dom.js";
import { ask } from "./net.js";

const root = by("larder"), form = by("food"), market = form.elements.rounded_under;
let replaces = "";

function lines() {
  for (const group of /** @type {NodeListOf<HTMLFieldSetElement>} */ (form.querySelectorAll("[data-lines]"))) {
    const mine = group.dataset.lines === market.value;
    group.hidden = !mine;
    group.disabled = !mine;
  }
}
market.addEventListener("change", lines);
form.addEventListener("reset", () => { replaces = ""; known = null; by("add-title").textContent = "Add a package"; fill(by("food-said")); setTimeout(lines); });

form.addEventListener("submit", async (/** @type {Event} */ event) => {
  event.preventDefault();
  /** @type {Record<string, any>} */
  const food = { panel: {} };
  for (const [key, value] of new FormData(form)) {
    if (key.startsWith("panel ")) food.panel[key.slice(6)] = value;
    else food[key] = value;
  }
  const more = known?.panel ?? {};
  for (const [key, value] of Object.entries(more)) if (!(key in food.panel)) food.panel[key] = value;
  try {
    await ask("/api/larder", { food, replaces, base: root.dataset.digest });
    sessionStorage.setItem("labeler said", `${food.name} is in the larder.`);
    const back = new URLSearchParams(location.search).has("back") ? sessionStorage.getItem("labeler back") : null;
    location.href = back?.startsWith("/recipe/") ? back : "/larder";
  } catch (error) { fill(by("food-said"), h("p", { class: "notice hurt" }, /** @type {any} */ (error).message)); }
});

/** @type {any} */
let known = null;
for (const row of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("#foods > [data-food]"))) {
  row.querySelector("[data-edit]")?.addEventListener("click", () => {
    form.reset();
    setTimeout(() => {
      known = JSON.parse(row.dataset.food ?? "{}");
      replaces = known.id;
      market.value = known.rounded_under;
      lines();
      for (const field of form.elements) {
        if (field.disabled || field.closest("[disabled]")) continue;
        if (field.name?.startsWith("panel ")) field.value = known.panel[field.name.slice(6)] ?? "";
        else if (field.name && field.name in known && field.name !== "panel") field.value = known[field.name];
      }
      by("add-title").textContent = `Change ${known.name}`;
      form.elements.name.focus();
    });
  });
}
by("find")?.addEventListener("input", () => {
  const said = by("find").value.toLowerCase();
  for (const row of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("#foods > li"))) row.hidden = !row.textContent?.toLowerCase().includes(said);
});
ready();
if (!form.elements.read_on.value) form.elements.read_on.value = new Date(Date.now() - new Date().getTimezoneOffset() * 60000).toISOString().slice(0, 10);
if (form.elements.name.value) form.elements.net.focus();

