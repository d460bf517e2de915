// @ts-check
// The batch: begun, watched, stopped, gone on with.
import { by, fill, h, ready, tell } from "./dom.js";
import { ask, get } from "./net.js";

function show(/** @type {any} */ now) {
  const under = now.state === "under way";
  by("begin").disabled = under;
  by("halt").disabled = !under;
  by("progress").max = Math.max(now.total, 1);
  by("progress").value = now.done;
  const counts = Object.entries(now.outcomes).map(([word, count]) => `${count} ${word}`).join(", ");
  by("batch-said").textContent = now.state === "not begun" ? "" : `${now.done} of ${now.total}, ${now.state}${counts ? `: ${counts}` : ""}${now.pace ? `; ${now.pace}` : ""}${now.said ? `. ${now.said}` : ""}`;
  if (now.files) fill(by("batch-files"), now.files.map((/** @type {string} */ name) => h("li", {}, h("a", { href: `/batch/${name}` }, name))));
  if (under) setTimeout(look, 400);
}
async function look() { try { show(await get("/api/batch-state")); } catch (error) { tell(/** @type {any} */ (error).message, "hurt"); } }
by("begin").addEventListener("click", async () => { try { show(await ask("/api/batch", { labels: by("labels").checked })); } catch (error) { tell(/** @type {any} */ (error).message, "hurt"); } });
by("halt").addEventListener("click", async () => { try { await ask("/api/batch-stop", {}); } catch (error) { tell(/** @type {any} */ (error).message, "hurt"); } });
ready();
look();
