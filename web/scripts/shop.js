/** The Shop: what is mine. Settings take hold at once and are kept on this device only. */

import * as engine from "./engine.js";
import { look_for_new, state_of_copy } from "./offline.js";
import { can_keep, choice, choose, empty, kept } from "./store.js";

/**
 * @param {HTMLElement} main
 * @param {AbortSignal} left
 */
export async function shop(main, left) {
  const form = /** @type {HTMLFormElement} */ (main.querySelector("#settings"));
  /** @param {string} id @param {string} text */
  const say = (id, text) => (/** @type {HTMLElement} */ (main.querySelector(`#${id}`)).textContent = text);

  for (const [key, otherwise] of [["units", "metric"], ["light", "system"], ["awake", "on"], ["sheet_name", ""]]) {
    /** @type {HTMLInputElement | RadioNodeList} */ (form.elements.namedItem(key)).value = choice(key, otherwise);
  }
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", (event) => {
    const { name, value } = /** @type {HTMLInputElement} */ (event.target);
    choose(name, value);
    const root = document.documentElement;
    if (name === "units") value === "inch" ? (root.dataset.units = "inch") : delete root.dataset.units;
    if (name === "light") value === "system" ? delete root.dataset.light : (root.dataset.light = value);
  });

  const show_engine = () => say("engine-state", engine.state === "off" ? "starts when it is needed" : engine.state);
  const show_copy = async () => say("copy-state", await state_of_copy());
  addEventListener("engine", show_engine, { signal: left });
  addEventListener("copy", show_copy, { signal: left });
  show_engine();
  show_copy();

  const room = await navigator.storage?.estimate?.().catch(() => undefined);
  if (room?.usage !== undefined) say("room", `${Math.round(room.usage / 1e6)} MB`);
  const count = async () => {
    const [recent, pinned] = await Promise.all([kept("recent"), kept("pinned")]);
    const keeps = await can_keep();
    say("kept-count", keeps ? `${pinned.length} pinned, ${recent.length} recent.` : "This window keeps nothing: storage is refused.");
  };
  await count();

  main.addEventListener("click", async (event) => {
    const pressed = /** @type {HTMLElement | null} */ (/** @type {HTMLElement} */ (event.target).closest("[data-do]"));
    if (pressed?.dataset.do === "fetch-again") say("copy-state", await look_for_new());
    if (pressed?.dataset.do === "forget-recent") {
      await empty("recent");
      await count();
    }
  });
}
