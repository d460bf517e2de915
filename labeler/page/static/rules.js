// @ts-check
// What the market asks of this food's label, what it frees it from, and what may be claimed.
import { fill, h } from "./dom.js";

const STATES = /** @type {Record<string, string>} */ ({ mandatory: "asked for", "mandatory unless": "asked for, unless freed", "must be told": "must be told", "told on request": "told on request", "not needed": "freed from it", optional: "may stand there", nothing: "not asked for" });
const FREED = /** @type {Record<string, string>} */ ({ applies: "holds", lost: "lost", "does not apply": "does not hold", open: "to be settled" });
const ORDER = Object.keys(STATES);

/** @param {any} place @param {{found: any, refused: string, place: string, act: Record<string, (...given: any[]) => void>}} now */
export function showRules(place, now) {
  const { found, refused } = now;
  if (refused) { fill(place, h("h2", {}, "Rules"), h("p", { class: "notice hurt" }, refused)); return; }
  if (!found) { fill(place, h("h2", {}, "Rules"), h("p", { class: "soft" }, "Looking up what the market asks …")); return; }
  const offered = found.claims.filter((/** @type {any} */ one) => one.offered), others = found.claims.filter((/** @type {any} */ one) => !one.offered);
  fill(place,
    h("h2", {}, "Rules", h("span", { class: "soft" }, ` of ${now.place}`)),
    h("p", {}, "What the rules of the market ask of this food, with their paragraphs. The program does not certify; your authority has the last word. ", found.ask),
    found.questions.length > 0 && h("section", {}, h("h3", {}, "It hangs on this"), h("ul", { class: "problems" }, found.questions.map((/** @type {any} */ one) => h("li", { class: "doubt" }, one)))),
    found.requirements.length > 0 && h("section", {}, h("h3", {}, "On the label"), h("ul", { class: "rules" }, ordered(found.requirements).map(requirement))),
    found.by_sale.length > 0 && h("section", {}, h("h3", {}, "By how it is sold"), found.by_sale.map(bySale)),
    found.serving && h("section", {}, h("h3", {}, "Serving"), h("p", {}, h("strong", {}, found.serving.statement), ` ${found.serving.servings ? `(${found.serving.servings})` : ""}`), reasons(found.serving.because)),
    found.disclosure && h("p", { class: "notice doubt" }, found.disclosure),
    found.claims.length > 0 && h("section", {}, h("h3", {}, "Claims"),
      offered.length ? h("ul", { class: "rules" }, offered.map(claim)) : h("p", {}, "The figures bear none."),
      others.length > 0 && h("details", {}, h("summary", {}, `${others.length} that the figures do not bear`), h("ul", { class: "rules" }, others.map(claim)))),
    tolerances(found.tolerances),
  );
}

const ordered = (/** @type {any[]} */ list) => [...list].sort((a, b) => ORDER.indexOf(a.state) - ORDER.indexOf(b.state));
const stateOf = (/** @type {string} */ state) => h("span", { class: `state ${state === "mandatory" ? "hurt" : ["optional", "not needed", "nothing"].includes(state) ? "sure" : "doubt"}` }, STATES[state] ?? state);
const reasons = (/** @type {string[]} */ list) => list.map((one) => h("p", { class: "soft" }, one));

function requirement(/** @type {any} */ one) {
  return h("li", {}, h("details", {}, h("summary", {}, h("strong", {}, one.what), " ", stateOf(one.state)), h("p", { class: "soft" }, one.because),
    one.exemptions.length > 0 && h("ul", {}, one.exemptions.map((/** @type {any} */ free) => h("li", {}, `${free.rule.replace(/-/g, " ")}: ${FREED[free.state] ?? free.state}; ${free.because}.`,
      free.ended_by.length > 0 && h("span", { class: "soft" }, ` It ends where: ${free.ended_by.join(" ")}`))))));
}

const bySale = (/** @type {any} */ one) => h("details", {}, h("summary", {}, h("strong", {}, one.sale)), h("ul", {}, ordered(one.requirements).map((asked) => h("li", {}, asked.what, " ", stateOf(asked.state)))));

const claim = (/** @type {any} */ one) => h("li", {}, h("strong", {}, one.words), reasons([...one.because, ...one.asks]));

function tolerances(/** @type {any[]} */ list) {
  const risky = list.filter((one) => one.risk >= 0.05);
  return list.length > 0 && h("section", {}, h("h3", {}, "Would a check agree?"),
    risky.length ? h("ul", { class: "problems" }, risky.map((one) => h("li", { class: "doubt" }, `${one.line.replace(/_/g, " ")}, declared ${one.declared}: in ${Math.round(one.risk * 100)} of 100 tries a laboratory’s figure is outside the tolerance.${one.safer ? ` ${one.safer} would be surer.` : ""}`)))
      : h("p", {}, "By the ranges of this recipe every declared figure stays within the tolerance, 95 times of 100 or more."));
}
