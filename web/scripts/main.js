/**
 * Every page starts here, and brings what only its sort of page needs. Going from page to page swaps <main> and keeps
 * the engine running; an address that cannot be swapped is opened the plain way.
 */

import { start } from "./engine.js";
import { offline } from "./offline.js";

/** @type {Record<string, () => Promise<(main: HTMLElement, left: AbortSignal) => Promise<void>>>} */
const PAGES = {
  bench: async () => (await import("./bench.js")).bench,
  calculation: async () => (await import("./calculation.js")).calculation,
  shop: async () => (await import("./shop.js")).shop,
};

let leaving = new AbortController();
let going = 0;

async function open() {
  leaving.abort();
  leaving = new AbortController();
  const { signal } = leaving;
  const root = document.documentElement;
  delete root.dataset.opened;
  const main = /** @type {HTMLElement} */ (document.getElementById("main"));
  const page = await PAGES[main.dataset.page ?? ""]?.();
  root.dataset.began = ""; // rescue.js waits for it
  if (!signal.aborted) await page?.(main, signal);
  if (!signal.aborted) root.dataset.opened = "";
}

/**
 * Fetch a page of ours and put its content in place of this one's.
 * @param {string} address
 * @param {boolean} back whether the browser's own back or forward led here
 */
async function go(address, back) {
  const mine = ++going;
  let page;
  try {
    const reply = await fetch(address, { headers: { Accept: "text/html" } });
    page = new DOMParser().parseFromString(await reply.text(), "text/html");
  } catch {
    if (mine === going) location.href = address;
    return;
  }
  if (mine !== going) return; // another page was asked for meanwhile
  const main = page.getElementById("main");
  const same = page.querySelector("script[type=module]")?.getAttribute("src");
  if (!main || same !== document.querySelector("script[type=module]")?.getAttribute("src")) {
    location.href = address; // a page of another version: load it whole
    return;
  }
  if (!back) document.getElementById("main")?.dispatchEvent(new Event("leave"));
  if (!back) history.pushState(null, "", address);
  document.title = page.title;
  const root = document.documentElement;
  root.dataset.renderedFor = page.documentElement.dataset.renderedFor ?? "";
  const made_for_this = location.search.slice(1) === root.dataset.renderedFor;
  root.dataset.of = page.documentElement.dataset.of ?? "";
  if (location.pathname.startsWith("/c/") && (!made_for_this || root.dataset.of)) root.dataset.stale = "";
  else delete root.dataset.stale;
  const description = page.querySelector("meta[name=description]")?.getAttribute("content") ?? "";
  document.querySelector("meta[name=description]")?.setAttribute("content", description);
  document.querySelector(".top nav")?.replaceWith(/** @type {Element} */ (page.querySelector(".top nav")));
  document.getElementById("main")?.replaceWith(main);
  if (!back) window.scrollTo(0, 0);
  main.focus({ preventScroll: true });
  try {
    await open();
  } catch {
    if (mine === going) location.href = address; // what that page needs did not come
  }
}

document.addEventListener("click", (event) => {
  if (event.defaultPrevented || event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
  const link = /** @type {HTMLElement} */ (event.target).closest("a[href]");
  if (!(link instanceof HTMLAnchorElement) || link.origin !== location.origin || link.target) return;
  event.preventDefault();
  if (link.hash) {
    // A place on this page: go there without a step in the history, which would load the page anew.
    document.getElementById(link.hash.slice(1))?.focus();
    return;
  }
  go(link.href, false);
});
window.addEventListener("popstate", () => go(location.href, true));

await open();
const idle = window.requestIdleCallback ?? ((/** @type {() => void} */ later) => setTimeout(later, 200));
idle(() => {
  offline();
  if (navigator.serviceWorker?.controller) start();
});
