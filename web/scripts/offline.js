/**
 * The offline copy as the page sees it: registered when idle, its progress and state in words, mended when it is not
 * whole, and another version taken on a tap: every window saves what was typed and is loaded anew, once.
 */

import { state } from "./engine.js";
import { all_kept } from "./store.js";

const REPLY = 10_000; // ms until a service worker that says nothing counts as out of order
const AGAIN = 2_000; // ms until a word that nothing has come of is said again
const HELD = 8_000; // ms until a version that was taken and does not take over counts as held back
const ONLINE = "Works online only";
const MENDING = 600_000; // ms for a copy to be fetched anew over a bad line
/** What the service worker says of a copy that it could not make. @type {Record<string, string>} */
const FAILED = { "no room": "No room for an offline copy", "not fetched": "Offline copy not fetched" };

const place = () => /** @type {HTMLElement} */ (document.getElementById("standing"));
const offer = () => /** @type {HTMLElement} */ (document.getElementById("offer"));
/** Whether another version is loading this window anew: it happens once. */
let leaving = false;
/** Tells the other windows to load anew as well. */
const channel = "BroadcastChannel" in window ? new BroadcastChannel("swarfbook-version") : null;
channel?.addEventListener("message", () => save().then(load_anew));

function load_anew() {
  if (leaving) return;
  leaving = true;
  location.reload();
}

/** @param {string} text */
function stand(text) {
  if (place().textContent !== text) place().textContent = text;
  window.dispatchEvent(new CustomEvent("copy", { detail: text }));
}

/**
 * Ask the service worker whether its copy is whole, or to make it so first.
 * @param {ServiceWorker} worker
 * @param {"whole" | "mend"} ask
 * @returns {Promise<{whole: boolean, version?: string, withdrawn?: boolean}>}
 */
function question(worker, ask = "whole") {
  return new Promise((settle, fail) => {
    const channel = new MessageChannel();
    channel.port1.onmessage = ({ data }) => settle(data);
    worker.postMessage({ ask }, [channel.port2]);
    setTimeout(() => fail(new Error("no reply")), ask === "mend" ? MENDING : REPLY);
  });
}

/** The state of the offline copy in a few words. */
export async function state_of_copy() {
  if (!("serviceWorker" in navigator)) return "not possible in this window; works online only";
  const registration = await navigator.serviceWorker.getRegistration();
  if (registration?.installing) return place().textContent || "being fetched";
  if (!registration?.active) return "not fetched yet";
  try {
    const { whole, version, withdrawn } = await question(registration.active);
    if (withdrawn) return "withdrawn by the server; works online only";
    return whole ? `whole, version ${version}` : "incomplete: connect once to mend it";
  } catch {
    return "did not reply";
  }
}

/** Look for a new version now; says what was found. */
export async function look_for_new() {
  const registration = await navigator.serviceWorker?.getRegistration();
  if (!registration) return "no offline copy yet";
  try {
    await registration.update();
  } catch {
    return "could not look: no network";
  }
  return registration.installing || registration.waiting ? "a new version is coming in" : "this is the newest version";
}

/** Offer the version that waits; what withdraws the copy, or follows on that, is taken without asking. @param {ServiceWorkerRegistration} registration */
async function show_offer(registration) {
  for (const one of [registration.waiting, registration.active]) {
    const known = one && (await question(one).catch(() => question(one)).catch(() => null));
    if (known?.withdrawn) return registration.waiting ? take(registration.waiting) : undefined;
  }
  const text = document.createElement("span");
  text.textContent = "A new version is ready.";
  const button = document.createElement("button");
  button.textContent = "Take it now";
  button.onclick = () => {
    button.disabled = true;
    if (registration.waiting) take(registration.waiting);
    else location.reload(); // another window has taken it already
  };
  offer().replaceChildren(text, button);
  offer().hidden = false;
}

/**
 * Have a version that waits take over; it is told until it does, since a browser may put it off or lose it.
 * @param {ServiceWorker} waiting
 */
async function take(waiting, since = performance.now()) {
  if (waiting.state !== "installed" || leaving) return;
  if (performance.now() - since > HELD && (await come_anew())) return;
  waiting.postMessage({ take: true });
  setTimeout(() => take(waiting, since), AGAIN);
}

/**
 * A browser may hold a version back while it finds the one before at work. Where the server is there, the windows let go
 * of both and come as on a first visit: what is fetched already is not fetched again, and what was typed is saved first.
 * @returns {Promise<boolean>} whether it could be done
 */
async function come_anew() {
  try {
    if (!(await fetch("/healthz", { cache: "no-store", signal: AbortSignal.timeout(REPLY) })).ok) return false;
    await (await navigator.serviceWorker.getRegistration())?.unregister();
  } catch {
    return false;
  }
  channel?.postMessage("anew");
  await save();
  load_anew();
  return true;
}

/** Say whether the copy is whole, and mend it where something has gone missing. @param {ServiceWorkerRegistration} registration */
async function whole(registration) {
  // One that withdraws the copy takes itself away, and not every browser tells that it was active: it is asked before.
  const worker = registration.active ?? registration.waiting;
  let known = worker && (await question(worker).catch(() => null));
  if (known?.withdrawn) return stand(ONLINE);
  if (!registration.active) return;
  if (known && !known.whole && navigator.onLine) known = await question(registration.active, "mend").catch(() => known);
  if (known?.whole) stand(state.startsWith("failed") ? ONLINE : "Ready offline");
  else if (known) stand("Offline copy incomplete");
}

/** Save what was typed here. */
async function save() {
  document.getElementById("main")?.dispatchEvent(new Event("leave"));
  await all_kept().catch(() => {}); // storage that fails now would fail later as well; it has been said on the page
}

/** Hear the service worker, then register it. */
export async function offline() {
  if (!("serviceWorker" in navigator)) return stand(ONLINE);
  let first = !(await navigator.serviceWorker.getRegistration().catch(() => undefined))?.active;
  navigator.serviceWorker.addEventListener("message", ({ data, ports }) => {
    if (data.fetched !== undefined) stand(`Offline copy ${data.fetched} %`);
    if (data.failed) stand(FAILED[data.failed]);
    if (data.save) save().then(() => ports[0].postMessage("saved"));
  });
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (!first) load_anew();
    first = false; // the first copy has come: nothing on the page was older than it
  });
  window.addEventListener("engine", () => state.startsWith("failed") && stand(ONLINE));
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && look_for_new().catch(() => {}));
  window.addEventListener("online", register);
  await register();
}

/** Register the service worker and watch what becomes of it; again when the network is back. */
async function register() {
  let registration;
  try {
    registration = await navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" });
  } catch {
    if (navigator.onLine) stand(ONLINE); // a private window, or storage refused; else there is no network yet
    return;
  }
  const watch = () => {
    const coming = registration.installing;
    coming?.addEventListener("statechange", async () => {
      if (coming.state === "redundant" && !registration.active && /%$/.test(place().textContent ?? "")) stand(FAILED["not fetched"]);
      if (["installed", "activated", "redundant"].includes(coming.state)) await whole(registration);
      if (coming.state === "installed" && registration.active) await show_offer(registration);
    });
  };
  watch();
  registration.onupdatefound = watch;
  await whole(registration);
  if (registration.waiting && registration.active) await show_offer(registration);
}
