/** The Bench: the call-out line answers while it is typed; below it what was pinned and what was used last. */

import { ask } from "./engine.js";
import { kept, mine as my_figures, on_change } from "./store.js";

const SETTLED = 1500; // ms of quiet before the first meaning is spoken

/**
 * @param {HTMLElement} main
 * @param {AbortSignal} left
 */
export async function bench(main, left) {
  const form = /** @type {HTMLFormElement} */ (main.querySelector("form.callout"));
  const line = /** @type {HTMLInputElement} */ (form.elements.namedItem("text"));
  const meanings = /** @type {HTMLElement} */ (main.querySelector("#meanings"));
  let asked = 0;
  let settled = 0;
  let own = my_figures(); // a promise: the line answers nobody until storage does, and is wired up all the same

  async function read() {
    const mine = ++asked;
    history.replaceState(history.state, "", line.value ? `/?${new URLSearchParams({ text: line.value })}` : "/");
    try {
      const html = await ask("callout", { text: line.value, mine: await own });
      if (mine !== asked || left.aborted) return;
      meanings.innerHTML = html;
      clearTimeout(settled);
      settled = window.setTimeout(speak, SETTLED);
    } catch (problem) {
      if (mine === asked) meanings.textContent = `No answer: ${/** @type {Error} */ (problem).message}`;
    }
  }

  /** Said once typing has come to rest, as on the page of a calculation. */
  function speak() {
    const first = meanings.querySelector(".first-meaning, .no-meaning");
    const words = [...(first?.querySelectorAll("b, i, .what, span:not(:has(*)), .verdict") ?? [])].map((one) => one.textContent);
    if (!left.aborted) /** @type {HTMLElement} */ (document.getElementById("spoken")).textContent = words.join(" ") || (first?.textContent ?? "");
  }

  line.addEventListener("input", read);
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    await read();
    /** @type {HTMLElement | null} */ (meanings.querySelector(".first-meaning > a"))?.click();
  });

  on_change(() => {
    own = my_figures();
    if (line.value) read();
  }, left);

  const asked_for = new URLSearchParams(location.search).get("text");
  if (line.value !== line.defaultValue) read(); // typed before the script came
  else if (asked_for && (line.value !== asked_for || !meanings.childElementCount || Object.keys(await own).length)) {
    line.value = asked_for;
    read();
  }
  await Promise.all([list(main, "pinned"), list(main, "recent")]);
}

/** @param {HTMLElement} main @param {"pinned" | "recent"} which */
async function list(main, which) {
  const pinned = which === "recent" ? new Set((await kept("pinned")).map((one) => one.address)) : new Set();
  const all = (await kept(which)).filter((one) => !pinned.has(one.address));
  const section = /** @type {HTMLElement} */ (main.querySelector(`#${which}`));
  section.hidden = all.length === 0;
  section.querySelector("ul")?.replaceChildren(
    ...all.map((one) => {
      const item = document.createElement("li");
      const link = document.createElement("a");
      const title = document.createElement("b");
      const said = document.createElement("span");
      link.href = one.address;
      title.textContent = one.title;
      said.textContent = one.said;
      link.append(title, said);
      item.append(link);
      return item;
    }),
  );
}
