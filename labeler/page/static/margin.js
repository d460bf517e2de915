// @ts-check
// The editor, with what the program makes of each row beside it.
import {
  Decoration, EditorState, EditorView, StateEffect, StateField, WidgetType, defaultKeymap, highlightActiveLine, history,
  historyKeymap, keymap, redo, redoDepth, undo, undoDepth,
} from "./editor/editor.js";
import { grams } from "./dom.js";

const MARKS = { sure: "●", likely: "◐", doubtful: "◔", open: "○" };
const WORDS = { sure: "sure", likely: "likely", doubtful: "doubtful", open: "not settled" };
const setRows = StateEffect.define();
const ALL_DRAWN = 600;

class Note extends WidgetType {
  constructor(/** @type {any} */ row) { super(); this.row = row; this.key = noteKey(row); }
  eq(/** @type {any} */ other) { return other.key === this.key; }
  get estimatedHeight() { return -1; }
  ignoreEvent() { return false; }
  toDOM() {
    const { row } = this, note = document.createElement("span");
    note.className = `note ${row.sure}`;
    note.setAttribute("aria-hidden", "true");
    const part = (/** @type {string} */ name, /** @type {string} */ text) => {
      const made = note.appendChild(document.createElement("span"));
      made.className = name;
      made.textContent = text;
      return made;
    };
    part("mark", MARKS[/** @type {keyof typeof MARKS} */ (row.sure)]);
    part("weight", row.grams ? grams(row.grams.best) : row.part ? "" : "? g");
    part("food", row.part ? `part: ${row.part}` : row.food ? row.food.description : "no food found");
    if (row.problems.length) part("flag", String(row.problems.length)).title = row.problems[0].message;
    return note;
  }
}

const noteKey = (/** @type {any} */ row) =>
  JSON.stringify([row.sure, row.grams?.best, row.part, row.food?.description, row.problems.length]);

/** Rows that are told from others by how they begin. */
function kindOf(/** @type {string} */ text, /** @type {number} */ number, /** @type {number} */ headEnd) {
  if (number <= headEnd) return "row-head";
  if (/^#{1,6}\s/.test(text)) return "row-part";
  if (/^\s*>/.test(text)) return "row-step";
  if (/^\s*([-*•]|\d+[.)])\s/.test(text)) return /^\s*\d/.test(text) ? "row-step" : "row-line";
  return text.trim() ? "row-line" : "";
}

function headEndOf(/** @type {any} */ doc) {
  if (doc.line(1).text.trim() !== "---") return 0;
  for (let at = 2; at <= Math.min(doc.lines, 60); at++) if (doc.line(at).text.trim() === "---") return at;
  return 0;
}

const kinds = StateField.define({
  create: (state) => kindsOf(state.doc),
  update: (value, change) => change.docChanged ? kindsOf(change.state.doc) : value,
  provide: (field) => EditorView.decorations.from(field),
});

function kindsOf(/** @type {any} */ doc) {
  const end = headEndOf(doc), marks = [];
  for (let at = 1; at <= doc.lines && at <= 3000; at++) {
    const line = doc.line(at), kind = kindOf(line.text, at, end);
    if (!kind) continue;
    marks.push(Decoration.line({ class: kind }).range(line.from));
    const sign = kind === "row-head" ? null : /^\s*(#{1,6}|[-*•>]+|\d+[.)])/.exec(line.text);
    if (sign) marks.push(Decoration.mark({ class: "sign" }).range(line.from, line.from + sign[0].length));
  }
  return Decoration.set(marks);
}

const notes = StateField.define({
  create: () => Decoration.none,
  update(value, change) {
    value = value.map(change.changes);
    for (const effect of change.effects) if (effect.is(setRows)) value = notesOf(change.state.doc, effect.value);
    return value;
  },
  provide: (field) => EditorView.decorations.from(field),
});

function notesOf(/** @type {any} */ doc, /** @type {any} */ read) {
  const found = [], bad = new Map();
  for (const row of read.rows) {
    if (row.line > doc.lines) continue;
    const line = doc.line(row.line);
    if (row.problems.length) bad.set(row.line, row.sure === "open" || row.sure === "doubtful" ? "hurt" : "doubt");
    found.push(Decoration.widget({ widget: new Note(row), side: 1 }).range(line.to));
  }
  for (const one of read.problems) if (one.line && one.line <= doc.lines && !bad.has(one.line)) bad.set(one.line, "doubt");
  for (const [number, kind] of bad) {
    const line = doc.line(number), start = line.from + (/^\s*(?:[-*•>]|\d+[.)])?\s*/.exec(line.text)?.[0].length ?? 0);
    if (start < line.to) found.push(Decoration.mark({ class: `wave ${kind}` }).range(start, line.to));
  }
  return Decoration.set(found, true);
}

/**
 * @param {{parent: HTMLElement, text: string, nonce: string, changed: () => void, moved: (line: number) => void,
 *   keys: {key: string, run: () => boolean}[]}} given
 */
export function makeEditor(given) {
  const view = new EditorView({
    parent: given.parent,
    state: EditorState.create({
      doc: given.text,
      extensions: [
        history(), kinds, notes, highlightActiveLine(), EditorView.lineWrapping, EditorView.cspNonce.of(given.nonce),
        keymap.of([...given.keys, ...historyKeymap, ...defaultKeymap]),
        EditorView.contentAttributes.of({
          "aria-label": "Text of the recipe", spellcheck: "false", autocapitalize: "sentences", autocorrect: "off",
        }),
        // A tap on what stands beside a row means the row, wherever the browser would put the cursor.
        EditorView.domEventHandlers({
          click(event, here) {
            const note = /** @type {any} */ (event.target).closest?.(".note");
            if (note) here.dispatch({ selection: { anchor: here.posAtDOM(note) } });
            return false;
          },
        }),
        EditorView.updateListener.of((update) => {
          drawAll(update.view);
          if (update.docChanged) given.changed();
          if (update.selectionSet || update.docChanged) given.moved(lineNow());
        }),
      ],
    }),
  });
  drawAll(view);
  const lineNow = () => view.state.doc.lineAt(view.state.selection.main.head).number;
  const change = (/** @type {any} */ changes, /** @type {any} */ more = {}) => view.dispatch({ changes, userEvent: "input.mend", ...more });
  const row = (/** @type {number} */ number) => view.state.doc.line(Math.min(Math.max(number, 1), view.state.doc.lines));
  return {
    view,
    text: () => view.state.doc.toString(),
    lines: () => view.state.doc.lines,
    lineNow,
    rowText: (/** @type {number} */ number) => row(number).text,
    show: (/** @type {any} */ read) => view.dispatch({ effects: setRows.of(read) }),
    /** Another text, as a change of what differs alone: the cursor stays where it is. */
    setText(/** @type {string} */ text) {
      const old = view.state.doc.toString(), least = Math.min(old.length, text.length);
      let from = 0, back = 0;
      while (from < least && old[from] === text[from]) from++;
      while (back < least - from && old[old.length - 1 - back] === text[text.length - 1 - back]) back++;
      if (old !== text) change({ from, to: old.length - back, insert: text.slice(from, text.length - back) });
    },
    setRow: (/** @type {number} */ number, /** @type {string} */ text) => change({ from: row(number).from, to: row(number).to, insert: text }),
    dropRow: (/** @type {number} */ number) => change({ from: row(number).from, to: Math.min(row(number).to + 1, view.state.doc.length) }),
    insertBelow: (/** @type {number} */ number, /** @type {string} */ text) => change({ from: row(number).to, insert: `\n${text}` }),
    goTo(/** @type {number} */ number, focus = true) {
      view.dispatch({ selection: { anchor: row(number).to }, scrollIntoView: true });
      if (focus) view.focus();
    },
    /** Put the cursor on a row without moving what is seen. */
    rest: (/** @type {number} */ number) => view.dispatch({ selection: { anchor: row(number).to } }),
    focus: () => view.focus(),
    undo: () => undo(view), redo: () => redo(view),
    depths: () => [undoDepth(view.state), redoDepth(view.state)],
  };
}

/**
 * Draw all rows of a recipe, as the editor does for paper. It would draw only those near the window and guess how high
 * the others are, so that rows move under the pointer while one scrolls, and a click means the row above or below.
 */
function drawAll(/** @type {any} */ view) {
  view.viewState.printing = view.state.doc.lines <= ALL_DRAWN;
}

/** What a line settles in braces, with a food or a weight written into it. */
export function pinned(/** @type {string} */ text, /** @type {{food?: string, grams?: string}} */ settle) {
  const braces = /\s*\{([^{}]*)\}/.exec(text);
  const items = (braces?.[1] ?? "").split(",").map((one) => one.trim()).filter(Boolean);
  const kept = items.filter((one) =>
    !(settle.food !== undefined && /^food\b/i.test(one)) && !(settle.grams !== undefined && /^[\d.]+\s*(g|kg|oz|lb)\b/i.test(one)));
  if (settle.food) kept.unshift(`food ${settle.food}`);
  if (settle.grams) kept.push(`${settle.grams} g`);
  const bare = braces ? text.replace(braces[0], "") : text;
  return kept.length ? `${bare.trimEnd()} {${kept.join(", ")}}` : bare;
}

/** The text with a key of its head set, or without it where the value is empty. */
export function withHead(/** @type {string} */ text, /** @type {string} */ key, /** @type {string} */ value) {
  const said = /^[\s"'#&*!|>%@`[\]{},?:=-]|: |\s#|:$/.test(value) ? JSON.stringify(value) : value;
  const rows = text.split("\n");
  if (!value && rows[0].trim() !== "---") return text;
  if (rows[0].trim() !== "---") return `---\n${key}: ${said}\n---\n${text}`;
  const end = rows.findIndex((row, at) => at > 0 && row.trim() === "---");
  if (end < 0) return text;
  const at = rows.findIndex((row, place) => place > 0 && place < end && row.toLowerCase().startsWith(`${key}:`));
  if (!value) { if (at > 0) rows.splice(at, 1); }
  else if (at > 0) rows[at] = `${key}: ${said}`;
  else rows.splice(end, 0, `${key}: ${said}`);
  return rows.join("\n");
}

export { MARKS, WORDS };
