// @ts-check
// One recipe: what is typed is answered at once, kept in the browser, saved into its file; figures follow.
import { by, fill, grams, h, later, tell } from "./dom.js";
import { ask, get } from "./net.js";
import { makeEditor, pinned, withHead } from "./margin.js";
import { showLine } from "./line.js";
import { showPlate } from "./plate.js";
import { showAllergens } from "./allergens.js";
import { showMethod } from "./method.js";
import { showHead } from "./head.js";
import { showRules } from "./rules.js";
import { copy, paperPanel, postPanel } from "./paper.js";

const root = by("recipe"), name = root.dataset.name ?? "", KEPT = `labeler ${document.querySelector(".stall")?.textContent} ${name}`;
/** @type {any} */
const state = { base: root.dataset.digest || "", saved: "", read: null, figures: null, before: null, advice: null, allergens: null, flow: null, stale: false, market: "us" };

const given = by("text").value;
state.saved = given;
by("text").remove();

const editor = makeEditor({
  parent: by("editor"), text: given, nonce: document.documentElement.dataset.nonce ?? "",
  changed: () => { typed = performance.now(); read(); keep(); save(); analyse(); showButtons(); label.stale(); said(editor.text() === state.saved ? "Saved" : "Not saved yet"); },
  moved: (line) => { if (line !== shownLine) { shownLine = line; drawLine(); } },
  keys: [
    { key: "Alt-ArrowDown", run: () => nextProblem(1) }, { key: "Alt-ArrowUp", run: () => nextProblem(-1) },
    { key: "Mod-.", run: () => firstMend() }, { key: "Mod-s", run: () => { save.stop(); saveNow(); return true; } },
    { key: "Mod-Enter", run: () => { openTab("line"); (by("weighed") ?? by("panel-line")).focus(); return true; } },
    { key: "Escape", run: () => { by("tab-line").focus(); return true; } },
  ],
});
let typed = 0, shownLine = 1, first = true;
const now = () => ({ name, text: editor.text(), place: state.market });
const label = paperPanel(now), post = postPanel(now);

// ---- what is typed, answered at once

let reading = false, again = false;
async function read() {
  if (reading) { again = true; return; }
  reading = true;
  do {
    again = false;
    const asked = editor.text(), since = typed;
    try {
      const found = await ask("/api/read", { name, text: asked });
      // What is typed meanwhile within a row leaves the others where they are: the answer still stands beside them.
      if (found && (editor.text() === asked || asked.split("\n").length === editor.lines())) {
        shown(found);
        if (since) performance.measure("labeler answer", { start: since, end: performance.now() });
      }
    } catch (error) { refuse(/** @type {any} */ (error).message); }
  } while (again);
  reading = false;
}

function shown(/** @type {any} */ found) {
  refuse(found.refused || found.foreign);
  if (found.foreign) by("refused").append(" ", h("button", { type: "button", class: "small", click: adopt }, "Make it a recipe file"));
  state.read = { rows: [], problems: [], head: {}, ...found };
  if (found.title) by("title").textContent = found.title;
  if (found.market) { state.market = found.market; by("market").value = found.market; }
  by("sale").value = state.read.head.sale ?? "";
  editor.show(state.read);
  showHead(by("head-fields"), { head: state.read.head, act });
  if (first && state.read.rows.length && editor.lineNow() === 1 && !editor.view.hasFocus) {
    // What stands beside the text at first is a line with a problem, else the first line.
    editor.rest((state.read.rows.find((/** @type {any} */ row) => row.problems.length) ?? state.read.rows[0]).line);
  }
  first = false;
  drawLine();
  const count = new Set([...state.read.rows.filter((/** @type {any} */ row) => row.problems.length).map((/** @type {any} */ row) => row.line), ...state.read.problems.map((/** @type {any} */ one) => one.line)]).size;
  badge("line", count);
}

async function adopt() {
  try { editor.setText((await ask("/api/adopt", now())).text); }
  catch (error) { tell(/** @type {any} */ (error).message, "hurt"); }
}

function refuse(/** @type {string} */ said) {
  by("refused").hidden = !said;
  by("refused").textContent = said || "";
}

function badge(/** @type {string} */ key, /** @type {number} */ count) {
  const place = document.querySelector(`[data-count="${key}"]`);
  if (!(place instanceof HTMLElement)) return;
  place.hidden = !count;
  place.textContent = String(count);
}

// ---- figures, as they are found

const analyse = later(analyseNow, 350);
const advise = later(async () => {
  const asked = editor.text();
  try {
    const found = await ask("/api/advice", now());
    if (found && editor.text() === asked) { state.advice = found; drawPlate(); }
  } catch { state.advice = []; }
}, 900);

async function analyseNow() {
  const asked = editor.text();
  state.stale = true;
  label.changed();
  post.changed();
  try {
    const figures = await ask("/api/figures", now());
    if (figures && editor.text() === asked) {
      state.figures = figures; state.stale = false; state.advice = null;
      by("inout").textContent = `${grams(figures.batch_g)} in all`;
      drawPlate();
      drawMethod();
      advise();
    }
    if (editor.text() !== asked) return;
    const found = await ask("/api/allergens", now());
    if (found && editor.text() === asked) {
      state.allergens = found;
      badge("allergens", new Set(found.contains.map((/** @type {any} */ one) => one.allergen)).size);
      showAllergens(by("panel-allergens"), { found, stale: false, act });
    }
    if (editor.text() !== asked) return;
    const flow = await ask("/api/method", now());
    if (flow && editor.text() === asked) { state.flow = flow; drawMethod(); judge(); }
  } catch (error) {
    state.stale = false;
    if (!state.read?.refused) tell(/** @type {any} */ (error).message, "hurt");
  }
}

const drawPlate = () => showPlate(by("panel-plate"), { figures: state.figures, before: state.before, advice: state.advice, stale: state.stale, act });

/** What the market asks: looked up when somebody wants to see it. */
let judged = "";
async function judge() {
  const asked = editor.text();
  if (by("panel-rules").hidden || judged === asked) return;
  try {
    const found = await ask("/api/requirements", now());
    if (!found || editor.text() !== asked) return;
    judged = asked;
    showRules(by("panel-rules"), { found, refused: "", place: by("market").selectedOptions[0].textContent, act });
  } catch (error) { showRules(by("panel-rules"), { found: null, refused: /** @type {any} */ (error).message, place: "", act }); }
}

const drawMethod = () => showMethod(by("panel-method"), { figures: state.figures, flow: state.flow, act });

function drawLine() {
  const line = editor.lineNow();
  const row = state.read?.rows.find((/** @type {any} */ one) => one.line === line);
  showLine(by("panel-line"), { line, text: editor.rowText(line), row, problems: state.read?.problems ?? [], name, act });
}

// ---- mends, which write into the text

const rowNow = () => state.read?.rows.find((/** @type {any} */ one) => one.line === editor.lineNow());
/** @type {Record<string, (...given: any[]) => any>} */
const act = {
  goTo: (line) => { editor.goTo(line); openTab("line"); },
  pin: (settle) => { const line = editor.lineNow(); editor.setRow(line, pinned(editor.rowText(line), settle)); editor.focus(); },
  word: (from, to) => { const line = editor.lineNow(); editor.setRow(line, editor.rowText(line).replace(from, to)); editor.focus(); },
  head: (key, value) => { editor.setText(withHead(editor.text(), key, value)); tell(value ? `Written into the head: ${key}: ${value}` : `Taken out of the head: ${key}`); },
  copy,
  brings: () => ask("/api/brings", now()),
  compareOn: () => { state.before = state.figures; drawPlate(); },
  compareOff: () => { state.before = null; drawPlate(); },
  mend: (mend) => {
    const line = editor.lineNow(), text = editor.rowText(line);
    if (mend.kind === "pin") act.pin({ food: mend.food });
    else if (mend.kind === "word") act.word(mend.from, mend.to);
    else if (mend.kind === "prefix") { editor.setRow(line, mend.prefix + text.trim().replace(/^(?:[-*•>]|\d+[.)])\s*/, "")); editor.focus(); }
    else if (mend.kind === "remove") { editor.dropRow(line); editor.focus(); }
    else if (mend.kind === "weigh") { openTab("line"); by("weighed")?.focus(); }
    else if (mend.kind === "find") { openTab("line"); by("food-query")?.focus(); }
  },
  packageRead: async (food, contains, ingredients) => {
    await ask("/api/package", { food, contains, ingredients });
    tell(`What the package of ${food} says is in the larder.`);
    judged = "";
    read();
    analyseNow();
  },
  settle: async (one, kept) => {
    tell("Looking for a sentence that says so …");
    const asked = editor.text();
    try {
      const found = await ask("/api/removal", { ...now(), part: one.part, box: one.box, what: one.name, kept });
      if (!found) return;
      if (editor.text() !== asked) { tell("The recipe was changed meanwhile; say it again.", "hurt"); return; }
      editor.setText(found.text);
      tell(`Written into the recipe: ${found.row.replace(/^>\s*/, "")}`);
    } catch (error) { tell(/** @type {any} */ (error).message, "hurt"); }
  },
  measured: (mend, number) => {
    const typed_ = number === null ? mend.type : mend.type.replace(/(^|[^\d.])(\d+(?:\.\d+)?)(\s*g\b)/, `$1${number}$3`);
    if (mend.kind === "head") act.head(mend.key, typed_.slice(mend.key.length + 1).trim());
    else if (mend.kind === "step") editor.insertBelow(mend.line ?? editor.lines(), typed_);
    else if (mend.line) { const text = editor.rowText(mend.line); editor.setRow(mend.line, text.replace(mend.from, typed_)); }
    tell("Written into the recipe.");
  },
};

function nextProblem(/** @type {number} */ way) {
  const lines = [...new Set([...(state.read?.rows ?? []).filter((/** @type {any} */ row) => row.problems.length).map((/** @type {any} */ row) => row.line),
    ...(state.read?.problems ?? []).map((/** @type {any} */ one) => one.line).filter(Boolean)])].sort((a, b) => a - b);
  if (!lines.length) { tell("No line has a problem."); return true; }
  const here = editor.lineNow();
  const next = way > 0 ? lines.find((line) => line > here) ?? lines[0] : lines.findLast((line) => line < here) ?? lines[lines.length - 1];
  openTab("line");
  editor.goTo(next);
  const said = state.read.rows.find((/** @type {any} */ row) => row.line === next)?.problems[0] ?? state.read.problems.find((/** @type {any} */ one) => one.line === next);
  tell(said?.message ?? "");
  return true;
}

function firstMend() {
  const mend = rowNow()?.mends?.[0];
  if (mend) act.mend(mend); else tell("This line has no mend at hand.");
  return true;
}

// ---- keeping and saving

const keep = later(() => {
  try { localStorage.setItem(KEPT, JSON.stringify({ text: editor.text(), base: state.base })); } catch { /* a full store keeps nothing */ }
}, 120);
const save = later(() => saveNow(), 800);
let saving = false;

async function saveNow() {
  if (saving) { save(); return; }
  const text = editor.text();
  if (text === state.saved) { said("Saved"); return; }
  saving = true;
  said("Saving …");
  try {
    state.base = (await ask("/api/save", { name, text, base: state.base })).digest;
    state.saved = text;
    said("Saved");
    if (editor.text() === text) localStorage.removeItem(KEPT);
    by("conflict").hidden = true;
  } catch (error) {
    const { status, found, message } = /** @type {any} */ (error);
    said("Not saved");
    if (status === 409) conflict(found);
    else tell(message, "hurt");
  }
  saving = false;
}

const said = (/** @type {string} */ word) => { by("saved").textContent = word; by("saved").classList.toggle("hurt-text", word === "Not saved"); };

function conflict(/** @type {any} */ found) {
  const place = by("conflict");
  fill(place, h("p", {}, found.said),
    h("p", { class: "buttons" },
      h("button", { type: "button", class: "main", click: async () => {
        try {
          const text = editor.text();
          const made = await ask("/api/new", { title: `${by("title").textContent} my copy`, text });
          // What the copy holds is saved: leaving asks nothing, and this file is not written once more.
          keep.stop(); save.stop();
          state.saved = text;
          localStorage.removeItem(KEPT);
          location.href = `/recipe/${encodeURIComponent(made.name)}`;
        } catch (error) { tell(/** @type {any} */ (error).message, "hurt"); }
      } }, "Keep mine as a copy"),
      h("button", { type: "button", click: () => { state.base = found.digest; state.saved = found.changed; editor.setText(found.changed); place.hidden = true; said("Saved"); localStorage.removeItem(KEPT); } }, "Take the file’s"),
      h("button", { type: "button", click: () => { state.base = found.digest; place.hidden = true; saveNow(); } }, "Write mine over it")),
    h("details", {}, h("summary", {}, "What differs"), differs(editor.text(), found.changed)));
  place.hidden = false;
}

function differs(/** @type {string} */ mine, /** @type {string} */ theirs) {
  const a = mine.split("\n"), b = theirs.split("\n"), inA = new Set(a), inB = new Set(b);
  const rows = [...a.filter((row) => row.trim() && !inB.has(row)).map((row) => h("li", {}, `mine: ${row}`)), ...b.filter((row) => row.trim() && !inA.has(row)).map((row) => h("li", {}, `file: ${row}`))];
  return rows.length ? h("ul", {}, rows.slice(0, 40)) : h("p", {}, "Only the order of the rows or empty rows.");
}

window.addEventListener("beforeunload", (event) => { if (editor.text() !== state.saved) { keep.stop(); try { localStorage.setItem(KEPT, JSON.stringify({ text: editor.text(), base: state.base })); } catch { /* nothing to do */ } saveNow(); if (by("saved").textContent === "Not saved") event.preventDefault(); } });
window.addEventListener("save-now", () => { save.stop(); saveNow(); });
document.addEventListener("visibilitychange", () => { if (document.visibilityState === "hidden") { save.stop(); saveNow(); } else look(); });
window.addEventListener("focus", look);

/** Whether somebody else has changed the file while this window was away. */
async function look() {
  if (editor.text() !== state.saved) return;
  try {
    const found = await get(`/api/text?name=${encodeURIComponent(name)}`);
    if (found && found.digest !== state.base && editor.text() === state.saved) {
      state.base = found.digest; state.saved = found.text;
      editor.setText(found.text);
      tell("The file was changed outside; this is what stands there now. Undo brings back what stood here.");
    }
  } catch { /* asked again next time */ }
}

function restore() {
  let kept = null;
  try { kept = JSON.parse(localStorage.getItem(KEPT) ?? "null"); } catch { kept = null; }
  if (!kept || kept.text === state.saved) { localStorage.removeItem(KEPT); return; }
  if (kept.base === state.base) {
    editor.setText(kept.text);
    tell("What you typed last was not saved and is here again. Undo takes it back.");
  } else {
    const there = { said: "Text that you typed here was not saved, and the file was changed since.", changed: state.saved, digest: state.base };
    editor.setText(kept.text);
    save.stop();
    conflict(there);
    state.base = "another";
  }
}

by("versions").addEventListener("click", async () => {
  const place = by("versions-list");
  try {
    const found = await get(`/api/versions?name=${encodeURIComponent(name)}`);
    place.hidden = false;
    fill(place, found.versions.length ? h("ul", {}, found.versions.map((/** @type {any} */ one) => h("li", {}, new Date(one.kept * 1000).toLocaleString(), " ",
      h("button", { type: "button", class: "small", click: async () => {
        editor.setText((await get(`/api/version?name=${encodeURIComponent(name)}&id=${encodeURIComponent(one.id)}`)).text);
        tell("This version is in the editor now. Undo takes it back.");
      } }, "Bring back")))) : h("p", {}, "None is kept yet."));
  } catch (error) { tell(/** @type {any} */ (error).message, "hurt"); }
});

// ---- tabs and buttons

const tabs = /** @type {HTMLElement[]} */ ([...document.querySelectorAll("[role=tab]")]);
function openTab(/** @type {string} */ key, focus = false) {
  for (const tab of tabs) {
    const mine = tab.id === `tab-${key}`;
    tab.setAttribute("aria-selected", String(mine));
    tab.tabIndex = mine ? 0 : -1;
    by(tab.getAttribute("aria-controls") ?? "").hidden = !mine;
    if (mine && focus) tab.focus();
  }
  try { sessionStorage.setItem("labeler tab", key); } catch { /* nothing to remember it in */ }
  if (key === "label") label.shown();
  if (key === "post") post.shown();
  if (key === "rules") judge();
}
for (const [at, tab] of tabs.entries()) {
  tab.addEventListener("click", () => { openTab(tab.id.slice(4)); toPanel(); });
  tab.addEventListener("keydown", (event) => {
    const to = event.key === "ArrowRight" ? at + 1 : event.key === "ArrowLeft" ? at - 1 : event.key === "Home" ? 0 : event.key === "End" ? tabs.length - 1 : null;
    if (to === null) return;
    event.preventDefault();
    openTab(tabs[(to + tabs.length) % tabs.length].id.slice(4), true);
  });
}
/** On a narrow screen the panel stands below the text: what was asked for comes into sight. */
function toPanel() {
  if (matchMedia("(max-width: 61.99rem)").matches) document.querySelector(".panel:not([hidden])")?.scrollIntoView({ block: "start" });
}
by("editor").addEventListener("click", (/** @type {any} */ event) => { if (event.target.closest(".note")) { openTab("line"); setTimeout(toPanel, 60); } });
function showButtons() {
  const [back, forth] = editor.depths();
  by("undo").disabled = !back;
  by("redo").disabled = !forth;
}
by("undo").addEventListener("click", () => { editor.undo(); editor.focus(); });
by("redo").addEventListener("click", () => { editor.redo(); editor.focus(); });
by("sale").addEventListener("change", () => act.head("sale", by("sale").value));
by("market").addEventListener("change", () => act.head("market", by("market").value));

document.addEventListener("click", (event) => {
  if (/** @type {any} */ (event.target).closest?.('a[href^="/larder"]')) sessionStorage.setItem("labeler back", location.pathname);
});
openTab(tabs.some((tab) => tab.id === `tab-${location.hash.slice(1)}`) ? location.hash.slice(1) : sessionStorage.getItem("labeler tab") || "line");
drawPlate();
showAllergens(by("panel-allergens"), { found: null, stale: false, act });
drawMethod();
showRules(by("panel-rules"), { found: null, refused: "", place: "", act });
showButtons();
document.body.classList.add("ready");
restore();
typed = 0;
read();
analyseNow();
