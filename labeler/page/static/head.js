// @ts-check
// What stands in the recipe's head, as fields: each writes its own row of the text.
import { fill, h } from "./dom.js";

const FIELDS = [
  ["title", "Name of the food", "Quay pie"], ["makes", "Makes", "7 jars"], ["net", "Net, of one pack", "190 g"], ["serving", "Serving", "30 g"],
  ["maker", "Who makes it", "Tern & Tide Kitchen"], ["place", "Address", "Stall 14, Quay Market"], ["storage", "How to keep it", "Keep below 5 °C."],
  ["best before", "Best before", "2027-03-01"], ["lot", "Lot", "BR-1103"], ["price", "Price, on tent and strip alone", "£3.50"],
];

/** @param {any} place @param {{head: Record<string, any>, act: Record<string, (...given: any[]) => void>}} now */
export function showHead(place, { head, act }) {
  fill(place, FIELDS.map(([key, word, example]) => h("label", {}, word, h("input", {
    "data-key": `head ${key}`, value: head[key] ?? "", placeholder: example, autocomplete: "off", maxlength: "200",
    change: (/** @type {any} */ event) => act.head(key, event.target.value.trim()),
  }))));
}
