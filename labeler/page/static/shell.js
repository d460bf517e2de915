// @ts-check
// What every screen has: the stop of the program.
import { by, h, tell } from "./dom.js";
import { ask } from "./net.js";

by("stop")?.addEventListener("click", async () => {
  if (!confirm("Stop the program? What you wrote is saved.")) return;
  window.dispatchEvent(new Event("save-now"));
  try {
    await new Promise((done) => setTimeout(done, 150));
    await ask("/api/stop", {});
    by("main").replaceChildren(h("section", { class: "leaf narrow" }, h("h1", {}, "Stopped"),
      h("p", {}, "The program has stopped. Start it again with “labeler page”; this window can be closed.")));
  } catch (error) { tell(/** @type {any} */ (error).message, "hurt"); }
});

// What the screen before wanted to say.
try {
  const said = sessionStorage.getItem("labeler said");
  if (said) { tell(said); sessionStorage.removeItem("labeler said"); }
} catch { /* nothing was said */ }
