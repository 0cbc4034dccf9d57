/** The offline copy as the page sees it: registered when idle, its progress and state in words, updates on a tap. */

const place = () => /** @type {HTMLElement} */ (document.getElementById("standing"));
const offer = () => /** @type {HTMLElement} */ (document.getElementById("offer"));
let taking = false;

/** @param {string} text */
function stand(text) {
  if (place().textContent !== text) place().textContent = text;
  window.dispatchEvent(new CustomEvent("copy", { detail: text }));
}

/** Ask the service worker whether its copy is whole. @param {ServiceWorker} worker @returns {Promise<{whole: boolean, version: string}>} */
function question(worker) {
  return new Promise((settle, fail) => {
    const channel = new MessageChannel();
    channel.port1.onmessage = ({ data }) => settle(data);
    worker.postMessage({ ask: "whole" }, [channel.port2]);
    setTimeout(() => fail(new Error("no reply")), 10_000);
  });
}

/** The state of the offline copy in a few words. */
export async function state_of_copy() {
  if (!("serviceWorker" in navigator)) return "not possible in this window; works online only";
  const registration = await navigator.serviceWorker.getRegistration();
  if (registration?.installing) return place().textContent || "being fetched";
  if (!registration?.active) return "not fetched yet";
  try {
    const { whole, version } = await question(registration.active);
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

/** @param {ServiceWorkerRegistration} registration */
function show_offer(registration) {
  const text = document.createElement("span");
  text.textContent = "A new version is ready.";
  const take = document.createElement("button");
  take.textContent = "Take it now";
  take.onclick = () => {
    taking = true;
    registration.waiting?.postMessage({ take: true });
  };
  offer().replaceChildren(text, take);
  offer().hidden = false;
}

/** @param {ServiceWorkerRegistration} registration */
async function whole(registration) {
  if (!registration.active) return;
  const known = await question(registration.active).catch(() => null);
  if (known?.whole) stand("Ready offline");
  else if (known) stand("Offline copy incomplete");
}

/** Register, then watch. */
export async function offline() {
  if (!("serviceWorker" in navigator)) return;
  navigator.serviceWorker.addEventListener("message", ({ data }) => {
    if (data.fetched !== undefined) stand(`Offline copy ${data.fetched} %`);
    if (data.failed) stand("Offline copy not fetched");
  });
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (taking) location.reload();
  });
  let registration;
  try {
    registration = await navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" });
  } catch {
    return; // private window, plain http on a network address, or storage refused: online only
  }
  const watch = (/** @type {ServiceWorker | null} */ coming) => {
    coming?.addEventListener("statechange", () => {
      if (coming.state === "installed" && registration.active) show_offer(registration);
      if (coming.state === "activated") whole(registration);
      if (coming.state === "redundant" && !registration.active) stand("Offline copy not fetched");
    });
  };
  watch(registration.installing);
  registration.addEventListener("updatefound", () => watch(registration.installing));
  if (registration.waiting && registration.active) show_offer(registration);
  whole(registration);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") registration.update().catch(() => {});
  });
}
