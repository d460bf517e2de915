// @ts-check
// Questions to the program, which runs on this machine.

export class Refused extends Error {
  /** @param {string} said @param {number} status @param {any} found */
  constructor(said, status, found) { super(said); this.status = status; this.found = found; }
}

const TAB = crypto.randomUUID?.() ?? String(Math.random()).slice(2);

/**
 * Ask, and get the answer; null where a newer question has taken this one's place.
 * @param {string} path @param {Record<string, any>} given @param {AbortSignal} [signal]
 * @returns {Promise<any>}
 */
export async function ask(path, given, signal) {
  return answer(fetch(path, {
    method: "POST", signal, headers: { "content-type": "application/json" },
    body: JSON.stringify({ tab: TAB, ...given }),
  }));
}

/** Send a file or a text as it is. @param {string} path @param {Blob|string} body @param {string} name */
export async function send(path, body, name) {
  return answer(fetch(path, {
    method: "POST", body, headers: { "content-type": "application/octet-stream", "x-file-name": encodeURIComponent(name) },
  }));
}

/** @param {string} path */
export const get = (path) => answer(fetch(path));

/** @param {Promise<Response>} asked */
async function answer(asked) {
  let got;
  try { got = await asked; } catch (error) {
    if (/** @type {any} */ (error).name === "AbortError") return null;
    throw new Refused("The program does not answer. Start it again with “labeler page”; what you typed is kept in this browser.", 0, {});
  }
  const text = await got.text();
  let found;
  try { found = JSON.parse(text); } catch { found = { said: text.trim() }; }
  if (got.ok) return found;
  if (found.superseded) return null;
  throw new Refused(found.said || `The program did not answer (${got.status}).`, got.status, found);
}
