/** What can be done with an answer: pin it, copy or share its link, show the link as a code, print the sheet. */

import { ask } from "./engine.js";
import { mark_own_units } from "./form.js";
import { choice, drop, keep, kept } from "./store.js";

/**
 * @param {HTMLElement} main
 * @param {() => string} address of the answer as typed, without its host
 */
export function wire(main, address) {
  const actions = /** @type {HTMLElement} */ (main.querySelector(".actions"));
  const dialog = /** @type {HTMLDialogElement} */ (main.querySelector("#code"));
  const pin = /** @type {HTMLElement} */ (actions.querySelector("[data-do=pin]"));
  const link = () => new URL(address(), location.origin).href;
  let title = document.title.replace(/ · Swarfbook$/, "");
  let said = document.querySelector("meta[name=description]")?.getAttribute("content") ?? "";

  async function show_pin() {
    const pinned = (await kept("pinned")).some((one) => one.address === address());
    pin.setAttribute("aria-pressed", String(pinned));
    pin.textContent = pinned ? "Pinned" : "Pin";
  }

  main.addEventListener("answered", (event) => {
    const detail = /** @type {CustomEvent} */ (event).detail;
    title = detail.title;
    said = detail.spoken;
    show_pin();
  });
  show_pin();

  /** @type {Record<string, () => Promise<void> | void>} */
  const doing = {
    async pin() {
      if (pin.getAttribute("aria-pressed") === "true") await drop("pinned", address());
      else await keep("pinned", { address: address(), title, said, at: Date.now() });
      await show_pin();
    },
    async copy() {
      await copy(`${said}\n${link()}`);
    },
    async share() {
      if (!navigator.share) return copy(`${said}\n${link()}`);
      try {
        await navigator.share({ title, text: said, url: link() });
      } catch (problem) {
        if (/** @type {Error} */ (problem).name !== "AbortError") await copy(`${said}\n${link()}`);
      }
    },
    async code() {
      const place = /** @type {HTMLElement} */ (dialog.querySelector(".code"));
      try {
        place.innerHTML = await ask("qr", { link: link() });
      } catch (problem) {
        const { message } = /** @type {Error} */ (problem);
        place.textContent = /InputError|422/.test(message)
          ? "This link is too long for a code that phones can read. Copy it instead."
          : `No code: ${message}. The link can still be copied.`;
      }
      /** @type {HTMLElement} */ (dialog.querySelector(".address")).textContent = link();
      dialog.showModal();
    },
    print() {
      window.print();
    },
    close() {
      dialog.close();
    },
  };

  main.addEventListener("click", (event) => {
    const pressed = /** @type {HTMLElement} */ (event.target).closest("[data-do]");
    if (pressed) doing[/** @type {HTMLElement} */ (pressed).dataset.do ?? ""]?.();
  });

  /** Copy, or where that is refused show the text to be copied by hand. @param {string} text */
  async function copy(text) {
    const button = /** @type {HTMLElement} */ (actions.querySelector("[data-do=copy]"));
    try {
      await navigator.clipboard.writeText(text);
      button.textContent = "Copied";
      setTimeout(() => (button.textContent = "Copy"), 2000);
    } catch {
      /** @type {HTMLElement} */ (dialog.querySelector(".code")).replaceChildren();
      /** @type {HTMLElement} */ (dialog.querySelector(".address")).textContent = text;
      dialog.showModal();
    }
  }

  window.onbeforeprint = () => {
    for (const fold of main.querySelectorAll("details")) fold.open = true;
    mark_own_units(main);
    /** @type {HTMLElement} */ (main.querySelector("#sheet-name")).textContent = choice("sheet_name", "");
    /** @type {HTMLElement} */ (main.querySelector("#sheet-date")).textContent = new Date().toLocaleDateString();
    /** @type {HTMLElement} */ (main.querySelector("#sheet-link")).textContent = decodeURIComponent(link());
  };
}
