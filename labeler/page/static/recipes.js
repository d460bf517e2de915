// @ts-check
// The list of recipes: bringing one in, beginning one, and the state of each.
import { by, h, ready, tell } from "./dom.js";
import { ask, send } from "./net.js";

const open = (/** @type {string} */ name) => { location.href = `/recipe/${name.split("/").map(encodeURIComponent).join("/")}`; };

async function bring(/** @type {Blob|string} */ body, /** @type {string} */ name) {
  tell("Reading …");
  try { open((await send("/api/bring", body, name)).name); }
  catch (error) { tell(/** @type {any} */ (error).message, "hurt"); }
}

by("bring").addEventListener("submit", (/** @type {Event} */ event) => {
  event.preventDefault();
  bring(by("pasted").value, "");
});
by("file").addEventListener("change", () => { const file = by("file").files[0]; if (file) bring(file, file.name); });
by("new").addEventListener("submit", async (/** @type {Event} */ event) => {
  event.preventDefault();
  try { open((await ask("/api/new", { title: by("title").value })).name); }
  catch (error) { tell(/** @type {any} */ (error).message, "hurt"); }
});
document.addEventListener("dragover", (event) => { event.preventDefault(); document.body.classList.add("dropping"); });
document.addEventListener("dragleave", () => document.body.classList.remove("dropping"));
document.addEventListener("drop", (event) => {
  event.preventDefault();
  document.body.classList.remove("dropping");
  const file = event.dataTransfer?.files[0];
  if (file) bring(file, file.name);
  else { const text = event.dataTransfer?.getData("text"); if (text) bring(text, ""); }
});
for (const button of document.querySelectorAll("[data-bring]")) {
  button.addEventListener("click", async () => {
    try { open((await ask("/api/bring-file", { name: button.getAttribute("data-bring") })).name); }
    catch (error) { tell(/** @type {any} */ (error).message, "hurt"); }
  });
}

ready();

// How each recipe stands, one after the other, so that the list is there at once.
for (const row of document.querySelectorAll("#recipes [data-name]")) {
  const place = row.querySelector("[data-state]");
  if (!place || row.querySelector("[data-bring]")) continue;
  try {
    const found = await ask("/api/state", { name: row.getAttribute("data-name") });
    if (!found) continue;
    const open = found.open ? `${found.open} to settle` : found.refused ? "cannot be read" : "nothing to settle";
    place.className = `state ${found.refused ? "hurt" : found.open ? "doubt" : "sure"}`;
    place.replaceChildren(h("span", {}, open), found.lots ? h("span", { class: "soft" }, ` · last lot ${found.lots}`) : "");
  } catch { /* the list stays without it */ }
}
