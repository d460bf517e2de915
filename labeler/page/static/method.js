// @ts-check
// What happened to the food: the method as a drawing whose arrows can be asked, and the account of each part.
import { fill, grams, h, short } from "./dom.js";
import { range } from "./line.js";

const SVG = "http://www.w3.org/2000/svg", MARGIN = 4;
const UNITS = { ENERC_KCAL: ["energy", "kcal"], FAT: ["fat", "g"], CHOCDF: ["carbohydrate", "g"], PROCNT: ["protein", "g"], NA: ["sodium", "mg"] };
/** Parts that are folded, by their title; and the arrow that was asked last. @type {Set<string>} */
const folded = new Set();
let asked = "";

/** @param {any} place @param {{figures: any, flow: any, act: Record<string, (...given: any[]) => any>}} now */
export function showMethod(place, now) {
  if (!now.figures) { fill(place, h("h2", {}, "Method"), h("p", { class: "soft" }, "What each step did comes with the figures.")); return; }
  fill(place, h("h2", {}, "Method"), now.flow ? drawing(now.flow, now.act) : h("p", { class: "soft" }, "Drawing what each step did …"), account(now.figures));
}

// ---- the drawing

function drawing(/** @type {any} */ flow, /** @type {any} */ act) {
  const told = h("div", { class: "arrow", role: "status", "aria-live": "polite" });
  const places = /** @type {any[]} */ ([]);
  const point = (/** @type {string} */ block) => { for (const one of places) for (const mark of one.querySelectorAll(".on, [data-block]")) mark.classList.toggle("on", mark.getAttribute("data-block") === block); };
  const show = (/** @type {string} */ block) => {
    const arrow = flow.arrows[block];
    if (!arrow) return;
    point(block);
    fill(told, h("p", {}, h("strong", {}, arrow.words), ` ${weight(arrow.grams)}`), h("p", { class: "soft" }, inside(arrow)), removal(arrow, act));
  };
  const ask = (/** @type {string} */ block) => { asked = block; show(block); };
  const picture = (/** @type {number} */ top, /** @type {number} */ bottom, /** @type {string} */ title) => {
    const svg = slice(flow, top, bottom);
    svg.addEventListener("pointerover", (/** @type {any} */ event) => { const block = event.target.dataset?.block; if (event.pointerType === "mouse" && flow.arrows[block]) show(block); });
    svg.addEventListener("click", (/** @type {any} */ event) => {
      const block = event.target.dataset?.block;
      if (flow.arrows[block]) ask(block);
      else if (flow.boxes[block]) act.goTo(flow.boxes[block]);
    });
    places.push(svg);
    return h("div", { class: "drawn scroll", tabindex: "0", role: "region", "aria-label": title }, svg);
  };
  const { parts } = flow, several = parts.length > 1;
  const arrows = (/** @type {number} */ at) => Object.entries(flow.arrows).filter(([block]) => new RegExp(`^(?:in|out|move|made) ${at}(?:\\.|$)`).test(block));
  const wide = h("button", { type: "button", class: "small", "data-key": "wide", "aria-pressed": String(document.body.classList.contains("wide")), click: () => wide.setAttribute("aria-pressed", String(document.body.classList.toggle("wide"))) }, "As wide as the window");
  const made = h("div", { class: "flow" },
    h("p", { class: "buttons widen" }, wide),
    h("p", { class: "soft" }, "Point at an arrow, or tap it, to see what it carries; tap a box to go to its words. The wider an arrow, the more dry matter and salt it carries; red is food that leaves."),
    flow.questions.length > 0 && h("ul", { class: "problems" }, flow.questions.map((/** @type {string} */ one) => h("li", { class: "doubt" }, one))),
    flow.unread.length > 0 && h("ul", { class: "problems" }, flow.unread.map((/** @type {any} */ one) => h("li", { class: "doubt" }, `Not read: “${one.text}” `, h("button", { type: "button", class: "link", click: () => act.goTo(one.line) }, `line ${one.line}`)))),
    picture(0, parts[0]?.top ?? flow.height, "What went in, what leaves, the dish"),
    parts.map((/** @type {any} */ part, /** @type {number} */ at) => {
      const title = part.title || "The recipe", key = `${at} ${title}`;
      const body = [picture(part.top, part.bottom, `${title}: the drawing`), leaving(arrows(at), act), list(arrows(at), ask)];
      if (!several) return body;
      const box = h("details", { class: "part", open: !folded.has(key), toggle: () => { if (box.open) folded.delete(key); else folded.add(key); } },
        h("summary", {}, h("strong", {}, title), h("span", { class: "soft" }, part.made ? ` ${grams(part.made.best)} made` : "")), body);
      return box;
    }),
    parts.length > 0 && picture(parts[parts.length - 1].bottom, flow.height, "The dish, and what is not in it"),
    told, h("details", {}, h("summary", {}, "The drawing in words"), h("p", {}, flow.told)));
  if (asked) show(asked);
  return made;
}

const weight = (/** @type {any} */ one) => one ? `${grams(one.best)}${one.high - one.low > 0.02 * one.best ? ` (${grams(one.low)} to ${grams(one.high)})` : ""}` : "of unknown weight";

function inside(/** @type {any} */ arrow) {
  const values = arrow.values.map((/** @type {any} */ one) => { const [word, unit] = /** @type {any} */ (UNITS)[one.tag]; return `${word} ${one.known ? "" : "at least "}${short(one.amount)} ${unit}`; });
  return [arrow.names.join(", "), values.join(" · ")].filter(Boolean).join(": ");
}

/** What the cook can say of something that leaves; it is written into the text. */
function removal(/** @type {any} */ arrow, /** @type {any} */ act) {
  const one = arrow.removal;
  if (!one) return arrow.line && h("p", { class: "buttons" }, h("button", { type: "button", class: "small", click: () => act.goTo(arrow.line) }, `Go to line ${arrow.line}`));
  return h("div", {},
    one.of && h("p", {}, `With it goes ${one.of}.`),
    h("p", {}, one.taken_to_be ? "This is taken to leave; the text does not say so." : one.food ? "This is food that leaves." : "This leaves."),
    h("p", { class: "buttons" },
      h("button", { type: "button", class: "small", "data-key": "kept", click: () => act.settle(one, true) }, "It was kept"),
      h("button", { type: "button", class: "small", "data-key": "thrown", click: () => act.settle(one, false) }, "It was thrown away"),
      arrow.line && h("button", { type: "button", class: "small", click: () => act.goTo(arrow.line) }, `Go to line ${arrow.line}`)));
}

function leaving(/** @type {any[]} */ arrows, /** @type {any} */ act) {
  const gone = arrows.filter(([, one]) => one.removal);
  return gone.length > 0 && h("ul", { class: "gone" }, gone.map(([block, one]) => h("li", {},
    h("span", {}, h("strong", {}, one.words), ` ${weight(one.grams)}`, one.removal.of && h("span", { class: "soft" }, ` ${one.removal.of}`), one.removal.taken_to_be && h("span", { class: "doubtful" }, " taken to be so")),
    h("span", { class: "buttons" },
      h("button", { type: "button", class: "small", "data-key": `kept ${block}`, "aria-label": `It was kept: ${one.words}`, click: () => act.settle(one.removal, true) }, "Kept"),
      h("button", { type: "button", class: "small", "data-key": `thrown ${block}`, "aria-label": `It was thrown away: ${one.words}`, click: () => act.settle(one.removal, false) }, "Thrown away")))));
}

/** Every arrow as a button, for who uses no pointer. */
function list(/** @type {any[]} */ arrows, /** @type {(block: string) => void} */ ask) {
  return h("details", {}, h("summary", {}, `Its ${arrows.length} arrows as a list`), h("ul", { class: "arrows" }, arrows.map(([block, one]) =>
    h("li", {}, h("button", { type: "button", class: "link", "data-key": `arrow ${block}`, click: () => ask(block) }, one.words), h("span", { class: "soft" }, ` ${weight(one.grams)}`)))));
}

/** The marks of one stretch of the drawing, from top to bottom. */
function slice(/** @type {any} */ flow, /** @type {number} */ top, /** @type {number} */ bottom) {
  const svg = document.createElementNS(SVG, "svg");
  svg.setAttribute("viewBox", `0 ${top - MARGIN} ${flow.width} ${bottom - top + 2 * MARGIN}`);
  svg.setAttribute("aria-hidden", "true");
  svg.style.minWidth = `${1.2 * flow.width}px`;
  for (const mark of flow.marks) {
    const [from, to] = reach(mark);
    if (to < top || from > bottom) continue;
    if (mark[0] === "text" && (mark[3] < top || mark[3] > bottom + 1)) continue;
    const made = svg.appendChild(stroke(mark));
    made.dataset.block = mark[1];
    if (flow.arrows[mark[1]] || flow.boxes[mark[1]]) made.classList.add("askable");
  }
  return svg;
}

function reach(/** @type {any[]} */ mark) {
  if (mark[0] === "text") return [mark[3] - mark[5], mark[3] + 2];
  if (mark[0] === "line") return [Math.min(mark[3], mark[5]), Math.max(mark[3], mark[5])];
  if (mark[0] === "shape") { const ys = mark[2].map((/** @type {number[]} */ one) => one[1]); return [Math.min(...ys), Math.max(...ys)]; }
  return [mark[3], mark[3] + mark[5]];
}

/** @returns {SVGElement} */
function stroke(/** @type {any[]} */ mark) {
  const make = (/** @type {string} */ tag, /** @type {Record<string, any>} */ set) => {
    const made = document.createElementNS(SVG, tag);
    for (const [name, value] of Object.entries(set)) made.setAttribute(name, String(value));
    return /** @type {SVGElement} */ (made);
  };
  if (mark[0] === "text") {
    const [, , x, y, face, size, colour, words] = mark;
    const made = make("text", { x, y, "font-size": size, fill: colour, class: face });
    made.textContent = words;
    return made;
  }
  if (mark[0] === "line") {
    const [, , x1, y1, x2, y2, width, colour, dash] = mark;
    return make("line", { x1, y1, x2, y2, stroke: colour, "stroke-width": width, ...dash && { "stroke-dasharray": dash } });
  }
  if (mark[0] === "shape") return make("polygon", { points: mark[2].map((/** @type {number[]} */ one) => one.join(",")).join(" "), fill: mark[3] });
  const [, , x, y, width, height, colour] = mark;
  return make("rect", { x, y, width, height, fill: colour });
}

// ---- the account

function account(/** @type {any} */ figures) {
  return h("section", {}, h("h3", {}, "What each step took away"), figures.parts.map((/** @type {any} */ part, /** @type {number} */ at) => {
    const steps = part.ledger.filter((/** @type {any} */ row) => row.step !== "in" && row.step !== "kept");
    const went = Math.max(part.grams_in, 1), key = `account ${at} ${part.title}`;
    const box = h("details", { class: "part", open: folded.has(key), toggle: () => { if (box.open) folded.add(key); else folded.delete(key); } },
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
    return box;
  }));
}

/** A share as a bar, which the grams beside it say in words. */
const bar = (/** @type {number} */ share) => range(Math.min(share, 1), 0, Math.min(share, 1), 1);
