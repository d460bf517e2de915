// @ts-check
// Building what is shown. Every text goes in as text: nothing that a recipe says is ever read as markup.

/**
 * An element with attributes and children; a function is a listener, `true` an attribute without a value.
 * @param {string} tag
 * @param {Record<string, any>} [set]
 * @param {...any} inside
 * @returns {any}
 */
export function h(tag, set = {}, ...inside) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(set)) {
    if (value === null || value === undefined || value === false) continue;
    if (typeof value === "function") made.addEventListener(name, value);
    else if (name === "class") made.className = value;
    else if (name === "value") /** @type {any} */ (made).value = value;
    else made.setAttribute(name, value === true ? "" : String(value));
  }
  made.append(...inside.flat(3).filter((one) => one !== null && one !== undefined && one !== false));
  return made;
}

/**
 * Open the fields that wait for a screen's script: before it listens, a form would be sent as the browser sends it, and
 * what was typed would be lost.
 */
export function ready() {
  for (const one of /** @type {NodeListOf<HTMLFieldSetElement>} */ (document.querySelectorAll("fieldset[data-waits]"))) one.disabled = false;
}

/** @param {string} id @returns {any} */
export const by = (id) => document.getElementById(id);

/** @type {Element|null} */
let pressed = null;
/** @type {Map<any, any[]>} */
const waiting = new Map();
/** Fields that somebody has typed in since they were last sent. */
const touched = new WeakSet();
const released = () => setTimeout(() => {
  pressed = null;
  const due = [...waiting];
  waiting.clear();
  for (const [place, inside] of due) put(place, inside);
}, 60);
addEventListener("pointerdown", (event) => { pressed = /** @type {Element} */ (event.target); }, true);
for (const kind of ["pointerup", "pointercancel", "dragend"]) addEventListener(kind, released, true);
addEventListener("click", () => { pressed = null; }, true);
addEventListener("input", (event) => touched.add(/** @type {any} */ (event.target)), true);
addEventListener("change", (event) => {
  const field = /** @type {any} */ (event.target);
  // What such a field says is written into the text at once; any other keeps what was typed until it is sent.
  if (/^(range|select-one|radio)$/.test(field.type) || field.dataset.key?.startsWith("head ")) touched.delete(field);
}, true);
addEventListener("submit", (event) => { for (const field of /** @type {any} */ (event.target).elements) touched.delete(field); }, true);

/**
 * Put new content in place of the old. The focus stays where an element of the same `data-key` has it, and so does what
 * was typed into such a field; while a button of the old content is being pressed the new content waits, since the
 * click would be lost with it.
 */
export function fill(/** @type {any} */ place, /** @type {any[]} */ ...inside) {
  if (pressed && place.contains(pressed)) { waiting.set(place, inside); return; }
  waiting.delete(place);
  put(place, inside);
}

function put(/** @type {any} */ place, /** @type {any[]} */ inside) {
  const here = place.contains(document.activeElement) ? /** @type {any} */ (document.activeElement) : null;
  const held = here?.closest("[data-key]")?.getAttribute("data-key");
  const typed = [...place.querySelectorAll("input[data-key], textarea[data-key]")].filter((one) => touched.has(one));
  const from = typed.includes(here) && here.type !== "number" ? here.selectionStart : null;
  const keyed = (/** @type {string} */ key) => place.querySelector(`[data-key="${CSS.escape(key)}"]`);
  place.replaceChildren(...inside.flat(3).filter((one) => one !== null && one !== undefined && one !== false));
  for (const old of typed) {
    const made = keyed(old.dataset.key);
    if (made) { made.value = old.value; made.checked = old.checked; touched.add(made); }
  }
  if (!held) return;
  keyed(held)?.focus({ preventScroll: true });
  if (from !== null) keyed(held)?.setSelectionRange?.(from, from);
}

let told = 0;
/** Say something to whoever looks and to whoever listens, for a while. */
export function tell(/** @type {string} */ sentence, kind = "") {
  const place = by("told");
  place.textContent = sentence;
  place.className = sentence ? `told seen ${kind}` : "told";
  clearTimeout(told);
  told = setTimeout(() => { place.className = "told"; place.textContent = ""; }, kind === "hurt" ? 12000 : 5000);
}

/** Grams as a cook reads them. */
export function grams(/** @type {number|null|undefined} */ value) {
  if (value === null || value === undefined) return "?";
  if (value >= 1000) return `${trim(value / 1000, value >= 10000 ? 1 : 2)} kg`;
  return `${trim(value, value >= 10 ? 0 : value >= 1 ? 1 : 2)} g`;
}

/** A number with so many places at most. */
export function trim(/** @type {number} */ value, places = 1) {
  return value.toLocaleString("en-GB", { maximumFractionDigits: places, useGrouping: Math.abs(value) >= 10000 });
}

/** A number with three figures that mean something. */
export function short(/** @type {number|null|undefined} */ value) {
  if (value === null || value === undefined) return "not known";
  const size = Math.abs(value);
  return trim(value, size >= 100 ? 0 : size >= 10 ? 1 : 2);
}

/** Run something once things have been quiet for a while. */
export function later(/** @type {(...given: any[]) => void} */ run, /** @type {number} */ wait) {
  let timer = 0;
  const call = (/** @type {any[]} */ ...given) => { clearTimeout(timer); timer = setTimeout(() => run(...given), wait); };
  call.stop = () => clearTimeout(timer);
  return call;
}
