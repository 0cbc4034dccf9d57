/** The Shop: what is mine. Settings take hold at once and are kept on this device only. */

import { copies } from "./copies.js";
import * as engine from "./engine.js";
import { look_for_new, state_of_copy } from "./offline.js";
import { owning } from "./owning.js";
import { cannot_keep, CHOICES, choice, choose, empty, is_promised, kept, on_change } from "./store.js";

/** Why this window keeps nothing. @type {Record<string, string>} */
const NOT_KEPT = {
  refused: "This window keeps nothing: storage is refused. What you enter holds until it is closed.",
  newer: "What is kept here was written by a newer version, and is left alone. Load the page anew while there is a network; until then this window keeps nothing.",
};
const PROMISE = ["may be cleared when room is short: keep a copy", "stays until you clear it"];

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
    const why_not = await cannot_keep();
    const notice = /** @type {HTMLElement} */ (main.querySelector("#not-kept"));
    notice.hidden = why_not === "";
    if (why_not) /** @type {HTMLElement} */ (notice.querySelector("span")).textContent = NOT_KEPT[why_not];
    say("kept-count", why_not ? "This window keeps nothing." : `${pinned.length} pinned, ${recent.length} recent.`);
    const promised = await is_promised();
    say("promise", promised === undefined ? "the browser does not say" : PROMISE[promised ? 1 : 0]);
  };
  on_change(count, left);
  await owning(main, left);
  await count();
  const remind = await copies(main, () => {
    show_choices();
    count();
  });

  main.addEventListener("click", async (event) => {
    const pressed = /** @type {HTMLElement | null} */ (/** @type {HTMLElement} */ (event.target).closest("[data-do]"));
    if (pressed?.dataset.do === "fetch-anew") {
      const refused = () => say("copy-state", "needs the network to be fetched anew; nothing was changed");
      dispatchEvent(new CustomEvent("fetch-anew", { detail: refused }));
    }
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
