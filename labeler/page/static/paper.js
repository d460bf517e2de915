// @ts-check
// Paper and post: forms on one side, what comes out on the other.
import { by, fill, h, later, tell } from "./dom.js";
import { ask } from "./net.js";

/** @param {() => {name: string, text: string, place: string}} now */
export function paperPanel(now) {
  const form = by("label-form"), picture = by("label-picture"), pdf = by("label-pdf");
  let panelsOf = "", wanted = false;

  const wish = () => {
    const said = /** @type {Record<string, any>} */ (Object.fromEntries(new FormData(form)));
    for (const key of ["crop_marks", "count_lots", "gauge", "attach", "anyway"]) said[key] = form.elements[key].checked;
    if (said.size === "own") said.size = said.own;
    if (!said.sheet && said.paper !== "roll") for (const key of ["sheet", "margins", "gaps", "copies", "start", "gauge", "crop_marks", "count_lots"]) delete said[key];
    if (!said.sheet && said.paper !== "roll") delete said.paper;
    delete said.own;
    return said;
  };

  let drawing = 0;

  /** What is shown is of a text or of wishes that have changed: until it is drawn again there is nothing to download. */
  function stale() {
    drawing += 1;
    pdf.removeAttribute("href");
    pdf.setAttribute("aria-disabled", "true");
    by("label-summary").textContent = "Drawing …";
  }

  async function draw() {
    stale();
    if (by("panel-label").hidden) { wanted = true; return; }
    wanted = false;
    const mine = drawing;
    const { name, text, place: own } = now(), asked = wish(), place = asked.market || own;
    if (place !== panelsOf) {
      panelsOf = place;
      const found = await ask("/api/panels", { market: place });
      fill(form.elements.panel, h("option", { value: "" }, "As the sale asks"), (found?.panels ?? []).map((/** @type {any} */ one) => h("option", { value: one.id }, `Official panel, ${one.format}`)));
      if (mine !== drawing) return; // a later wish is being drawn; to ask again would take its answer away
    }
    try {
      const made = await ask("/api/label", { name, text, market: asked.market, wish: asked });
      if (!made || mine !== drawing) return;
      picture.src = made.picture;
      picture.alt = `The label: ${made.summary}`;
      picture.hidden = false;
      pdf.href = `${made.pdf}?save`;
      pdf.download = made.file;
      pdf.hidden = false;
      pdf.removeAttribute("aria-disabled");
      pdf.textContent = "Download the PDF";
      by("label-summary").textContent = made.summary;
      lacks(made.declared);
    } catch (error) {
      if (mine !== drawing) return;
      by("label-short").textContent = "";
      picture.hidden = true;
      pdf.hidden = true;
      by("label-summary").textContent = "";
      fill(by("label-lacks"), doesNotFit(error, (size) => { form.elements.size.value = "own"; form.elements.own.value = size; form.dispatchEvent(new Event("input")); }));
    }
  }

  remember(form, "labeler label");
  form.querySelector("[data-own]").hidden = form.elements.size.value !== "own";

  function lacks(/** @type {any} */ declared) {
    const { problems, lacks: lacking = [], questions = [], notes = [] } = declared;
    const told = new Set([...lacking.map((/** @type {any} */ one) => one.message), ...questions, ...notes]);
    const others = problems.filter((/** @type {any} */ one) => !told.has(one.message) && !/^(lacks|sale)-/.test(one.code));
    const short = [...new Set(lacking.map((/** @type {any} */ one) => one.element).filter(Boolean))];
    by("label-short").textContent = short.length ? `It still lacks: ${short.join(", ")}.` : "";
    fill(by("label-lacks"),
      declared.sale && h("p", { class: "soft" }, `Sold ${declared.sale}${declared.sale_assumed ? " (taken to be; say how under “How it is sold”)" : ""}${declared.draft ? ". It is marked as a draft." : "."}`),
      lacking.length > 0 && h("section", { class: "notice hurt" }, h("h3", {}, "This label still lacks"), h("ul", {}, lacking.map((/** @type {any} */ one) => h("li", {}, [one.element, one.message].filter(Boolean).join(": "))))),
      questions.length + notes.length > 0 && h("ul", { class: "problems" }, [...questions, ...notes].map((one) => h("li", { class: "doubt" }, one))),
      others.length > 0 && h("details", { class: "lacks", open: others.length < 4 },
        h("summary", {}, `To settle before printing: ${others.length}`),
        h("ul", { class: "problems" }, others.map((/** @type {any} */ one) => h("li", { class: one.severity === "refuse" ? "hurt" : "doubt" }, one.message)))));
    texts(declared);
  }

  /** The texts of the label, to copy for labels that are printed elsewhere. */
  function texts(/** @type {any} */ declared) {
    const rows = [["Ingredients", declared.ingredients], ["Allergens", declared.allergens], ["Net quantity", declared.net], ["Storage", declared.storage], ...declared.cautions.map((/** @type {string} */ one) => ["Caution", one])].filter(([, text]) => text);
    fill(by("label-texts"), h("details", {}, h("summary", {}, "Texts to copy for labels printed elsewhere"), h("ul", { class: "texts" }, rows.map(([word, text]) =>
      h("li", {}, h("strong", {}, word), ` ${text} `, h("button", { type: "button", class: "small", "aria-label": `Copy: ${word}`, click: () => copy(text, word) }, "Copy"))))));
  }

  const soon = later(draw, 250);
  form.addEventListener("input", () => {
    form.querySelector("[data-own]").hidden = form.elements.size.value !== "own";
    stale();
    soon();
  });
  form.addEventListener("submit", (/** @type {Event} */ event) => event.preventDefault());
  by("worksheet").addEventListener("click", async () => {
    const { name, text } = now();
    tell("Writing the worksheet …");
    try {
      const made = await ask("/api/worksheet", { name, text, market: wish().market });
      if (made) save(made.file, made.name);
    } catch (error) { tell(/** @type {any} */ (error).message, "hurt"); }
  });
  return { changed: soon, stale, shown: () => { if (wanted || picture.hidden) draw(); } };
}

/** What was refused; where only the size is too small, buttons with sizes that hold it. */
export function doesNotFit(/** @type {any} */ error, /** @type {(size: string) => void} */ take) {
  return h("div", { class: "notice hurt" }, h("p", {}, error.message),
    (error.found?.fits ?? []).length > 0 && h("p", { class: "buttons" }, [...new Set(error.found.fits)].map((/** @type {any} */ size) => h("button", { type: "button", class: "small", click: () => take(size) }, `Make it ${size.replace("x", " × ")} mm`))));
}

/** Keep what a form says in this browser, and bring it back. */
export function remember(/** @type {any} */ form, /** @type {string} */ key, leave = /** @type {string[]} */ ([])) {
  try {
    const kept = JSON.parse(localStorage.getItem(key) ?? "{}");
    for (const field of form.elements) {
      if (!field.name || leave.includes(field.name) || !(field.name in kept)) continue;
      if (field.type === "checkbox") field.checked = kept[field.name]; else field.value = kept[field.name];
      if (field.tagName === "SELECT" && field.selectedIndex < 0) field.selectedIndex = 0;
    }
  } catch { /* nothing is kept */ }
  form.addEventListener("input", () => {
    const said = /** @type {Record<string, any>} */ ({});
    for (const field of form.elements) if (field.name && !leave.includes(field.name)) said[field.name] = field.type === "checkbox" ? field.checked : field.value;
    try { localStorage.setItem(key, JSON.stringify(said)); } catch { /* nothing to keep it in */ }
  });
}

/** Fetch a file that was made. */
export function save(/** @type {string} */ address, /** @type {string} */ name) {
  const link = h("a", { href: `${address}?save`, download: name });
  document.body.append(link);
  link.click();
  link.remove();
}

/** @param {() => {name: string, text: string, place: string}} now */
export function postPanel(now) {
  const form = by("post-form"), shown = by("post-shown"), file = by("post-file");
  let wanted = true;
  async function write() {
    if (by("panel-post").hidden) { wanted = true; return; }
    wanted = false;
    const { name, text } = now();
    try {
      const made = await ask("/api/post", {
        name, text, form: form.elements.form.value, language: form.elements.language.value,
        address: form.elements.address.value.trim(), whole: form.elements.whole.checked,
      });
      if (!made) return;
      by("post-text").value = made.text;
      file.href = `${made.file}?save`;
      file.download = made.name;
      file.hidden = false;
      shown.hidden = form.elements.form.value !== "html";
      if (!shown.hidden) shown.src = made.file;
    } catch (error) { tell(/** @type {any} */ (error).message, "hurt"); }
  }
  const soon = later(write, 250);
  form.addEventListener("input", soon);
  form.addEventListener("submit", (/** @type {Event} */ event) => event.preventDefault());
  by("post-copy").addEventListener("click", () => copy(by("post-text").value, "The post"));
  return { changed: soon, shown: () => { if (wanted) write(); } };
}

/** Put a text on the clipboard. */
export async function copy(/** @type {string} */ text, /** @type {string} */ what) {
  try {
    await navigator.clipboard.writeText(text);
    tell(`${what} is on the clipboard.`);
  } catch {
    const field = h("textarea", { class: "unseen", value: text, "aria-label": what });
    document.body.append(field);
    field.select();
    document.execCommand("copy");
    field.remove();
    tell(`${what} is on the clipboard.`);
  }
}
