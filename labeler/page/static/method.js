// @ts-check
// What happened to the food: the account of each part, step by step.
import { fill, grams, h } from "./dom.js";
import { range } from "./line.js";

/** @param {any} place @param {{figures: any, flow: any, act: Record<string, (...given: any[]) => void>}} now */
export function showMethod(place, now) {
  if (!now.figures) { fill(place, h("h2", {}, "Method"), h("p", { class: "soft" }, "What each step did comes with the figures.")); return; }
  fill(place, h("h2", {}, "Method"), now.flow?.svg && flowDrawing(now.flow), now.figures.parts.map((/** @type {any} */ part, /** @type {number} */ at) => {
    const steps = part.ledger.filter((/** @type {any} */ row) => row.step !== "in" && row.step !== "kept");
    const went = Math.max(part.grams_in, 1);
    return h("details", { class: "part", open: at < 6 },
      h("summary", {}, h("strong", {}, part.title || "The recipe"), h("span", { class: "soft" }, ` ${grams(part.grams_in)} in, ${grams(part.grams_kept)} left`)),
      h("ol", { class: "account" },
        part.ledger.filter((/** @type {any} */ row) => row.step === "in").map((/** @type {any} */ row) => h("li", { class: "in" }, h("span", {}, `${row.stream}`), h("b", {}, grams(row.grams)))),
        steps.map((/** @type {any} */ row, /** @type {number} */ number) => {
          const first = steps[number - 1]?.step !== row.step, told = steps[number - 1]?.basis === row.basis && !first;
          if (!first && row.grams <= 0.05) return null;
          return h("li", { class: first ? "" : "more" }, first && h("p", { class: "act" }, row.step),
            row.grams > 0.05 && h("p", { class: "leaves" }, bar(row.grams / went), h("span", {}, `${row.stream}`), h("b", {}, grams(row.grams))),
            first && row.grams <= 0.05 && h("p", { class: "soft" }, "Nothing leaves."), !told && h("p", { class: "soft" }, row.basis));
        }),
        h("li", { class: "left" }, h("span", {}, "left"), h("b", {}, grams(part.grams_kept)))));
  }));
}

/** The flow of the method as it is drawn on paper: shown as a picture, in which nothing can run. */
function flowDrawing(/** @type {any} */ flow) {
  const address = URL.createObjectURL(new Blob([flow.svg], { type: "image/svg+xml" }));
  const picture = h("img", { alt: flow.told || "The method as a flow: what enters where, and what leaves", src: address });
  picture.addEventListener("load", () => URL.revokeObjectURL(address), { once: true });
  return h("figure", { class: "paper flow scroll", tabindex: "0", role: "group", "aria-label": "The method as a flow" }, picture);
}

/** A share as a bar, which the grams beside it say in words. */
const bar = (/** @type {number} */ share) => range(Math.min(share, 1), 0, Math.min(share, 1), 1);
