/** The Shop: what is mine. Settings take hold at once and are kept on this device only. */

import { copies } from "./copies.js";
import * as engine from "./engine.js";
import { look_for_new, state_of_copy } from "./offline.js";
import { owning } from "./owning.js";
import { can_keep, CHOICES, choice, choose, empty, kept } from "./store.js";

/**
 * @param {HTMLElement} main
 * @param {AbortSignal} left
 */
export async function shop(main, left) {
  const form = /** @type {HTMLFormElement} */ (main.querySelector("#settings"));
  /** @param {string} id @param {string} text */
  const say = (id, text) => (/** @type {HTMLElement} */ (main.querySelector(`#${id}`)).textContent = text);

  function show_choices() {
    for (const [key, otherwise] of Object.entries(CHOICES)) {
      /** @type {HTMLInputElement | RadioNodeList} */ (form.elements.namedItem(key)).value = choice(key, otherwise);
      take_hold(key, choice(key, otherwise));
    }
  }

  /** @param {string} name @param {string} value */
  function take_hold(name, value) {
    const root = document.documentElement;
    if (name === "units") value === "inch" ? (root.dataset.units = "inch") : delete root.dataset.units;
    if (name === "light") value === "system" ? delete root.dataset.light : (root.dataset.light = value);
  }

  show_choices();
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", (event) => {
    const { name, value } = /** @type {HTMLInputElement} */ (event.target);
    choose(name, value);
    take_hold(name, value);
  });

  const show_engine = () => say("engine-state", engine.state === "off" ? "starts when it is needed" : engine.state);
  const show_copy = async () => say("copy-state", await state_of_copy());
  addEventListener("engine", show_engine, { signal: left });
  addEventListener("copy", show_copy, { signal: left });
  show_engine();
  show_copy();

  const count = async () => {
    const [recent, pinned] = await Promise.all([kept("recent"), kept("pinned")]);
    const keeps = await can_keep();
    /** @type {HTMLElement} */ (main.querySelector("#not-kept")).hidden = keeps;
    say("kept-count", keeps ? `${pinned.length} pinned, ${recent.length} recent.` : "This window keeps nothing: storage is refused.");
  };
  await owning(main, left);
  await count();
  const remind = await copies(main, () => {
    show_choices();
    count();
  });

  main.addEventListener("click", async (event) => {
    const pressed = /** @type {HTMLElement | null} */ (/** @type {HTMLElement} */ (event.target).closest("[data-do]"));
    if (pressed?.dataset.do === "fetch-again") say("copy-state", await look_for_new());
    if (pressed?.dataset.do === "forget-recent") {
      await empty("recent");
      await count();
      await remind();
    }
  });

  const room = await navigator.storage?.estimate?.().catch(() => undefined);
  if (room?.usage !== undefined) say("room", `${Math.round(room.usage / 1e6)} MB`);
}
