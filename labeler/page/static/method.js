// @ts-check
// What happened to the food: the account of each part, step by step.
import { fill, grams, h } from "./dom.js";

/** @param {any} place @param {{figures: any, act: Record<string, (...given: any[]) => void>}} now */
export function showMethod(place, now) {
  if (!now.figures) { fill(place, h("h2", {}, "Method"), h("p", { class: "soft" }, "What each step did comes with the figures.")); return; }
  fill(place, h("h2", {}, "Method"), now.figures.parts.map((/** @type {any} */ part, /** @type {number} */ at) => {
    const steps = part.ledger.filter((/** @type {any} */ row) => row.step !== "in" && row.step !== "kept");
    const went = Math.max(part.grams_in, 1);
    return h("details", { class: "part", open: at < 6 },
      h("summary", {}, h("strong", {}, part.title || "The recipe"), h("span", { class: "soft" }, ` ${grams(part.grams_in)} in, ${grams(part.grams_kept)} left`)),
      h("ol", { class: "account" },
        part.ledger.filter((/** @type {any} */ row) => row.step === "in").map((/** @type {any} */ row) => h("li", { class: "in" }, h("span", {}, `${row.stream}`), h("b", {}, grams(row.grams)))),
        steps.map((/** @type {any} */ row, /** @type {number} */ place_) => h("li", {},
          steps[place_ - 1]?.step !== row.step && h("p", { class: "act" }, row.step),
          row.grams > 0.05 && h("p", { class: "leaves" }, bar(row.grams / went), h("span", {}, `${row.stream}`), h("b", {}, grams(row.grams))),
          h("p", { class: "soft" }, row.basis))),
        h("li", { class: "left" }, h("span", {}, "left"), h("b", {}, grams(part.grams_kept)))));
  }));
}

function bar(/** @type {number} */ share) {
  const meter = h("meter", { min: "0", max: "1", value: null, "aria-hidden": "true" });
  meter.value = Math.min(share, 1);
  return meter;
}
