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

/** @param {string} id @returns {any} */
export const by = (id) => document.getElementById(id);

/** Put new content in place of the old, keeping the focus where an element of the same `data-key` has it. */
export function fill(/** @type {any} */ place, /** @type {any[]} */ ...inside) {
  const key = place.contains(document.activeElement) ? document.activeElement?.closest("[data-key]") : null;
  const held = key?.getAttribute("data-key");
  place.replaceChildren(...inside.flat(3).filter((one) => one !== null && one !== undefined && one !== false));
  if (held) place.querySelector(`[data-key="${CSS.escape(held)}"]`)?.focus();
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
