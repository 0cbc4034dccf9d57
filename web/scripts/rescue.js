/**
 * When nothing starts: says what happened and gives three ways on. A script of the old kind that needs no other, so
 * that it is there when a module of the app, or the engine, is not. What the user typed is never touched here.
 */
(() => {
  const PATIENCE = 15_000; // ms until an app that has not begun counts as not starting
  const KEPT = "What you typed is kept.";
  const root = document.documentElement;
  const own = /** @type {HTMLScriptElement} */ (document.currentScript);
  /** @type {HTMLElement | null} */
  let panel = null;

  setTimeout(() => {
    if (!("began" in root.dataset)) stuck("The app has not started on this device.");
  }, PATIENCE);
  addEventListener("engine", (event) => {
    const { detail } = /** @type {CustomEvent<string>} */ (event);
    if (detail === "ready") recovered();
    if (detail.startsWith("failed")) engine_failed(detail.slice("failed: ".length));
  });

  /** The server may still answer: then it is not worth more than the line on top. @param {string} why */
  async function engine_failed(why) {
    if (await server_is_there()) recovered();
    else stuck(`The engine on this device did not start (${why}), and the server cannot be reached.`);
  }

  async function server_is_there() {
    try {
      return (await fetch("/healthz", { cache: "no-store", signal: AbortSignal.timeout(5_000) })).ok;
    } catch {
      return false;
    }
  }

  function recovered() {
    panel?.remove();
    panel = null;
  }

  /** @param {string} what happened */
  function stuck(what) {
    if (panel) {
      /** @type {HTMLElement} */ (panel.querySelector("p")).textContent = `${what} ${KEPT}`;
      return; // said already: whoever reads it, or has his finger on it, is left in peace
    }
    panel = document.createElement("section");
    panel.className = "stuck";
    panel.setAttribute("role", "alert");
    const said = document.createElement("p");
    const told = document.createElement("p");
    const ways = document.createElement("div");
    said.textContent = `${what} ${KEPT}`;
    told.className = "told";
    ways.className = "actions";
    ways.append(
      button("Try again", () => location.reload()),
      button("Fetch the offline copy anew", async () => {
        if (!(await fetch_anew())) told.textContent = "That needs the network, which is not there now. Nothing was changed.";
      }),
      button("Copy my data out", async () => {
        try {
          const { save_copy } = await import(new URL("copies.js", own.src).href);
          await save_copy();
          told.textContent = "Copied out. Move the file to where this device cannot lose it.";
        } catch (problem) {
          told.textContent = `It could not be copied out: ${/** @type {Error} */ (problem).message}`;
        }
      }),
    );
    panel.append(said, ways, told);
    document.getElementById("offer")?.after(panel);
  }

  /** @param {string} text @param {() => void} act */
  function button(text, act) {
    const made = document.createElement("button");
    made.type = "button";
    made.textContent = text;
    made.onclick = act;
    return made;
  }

  /** Throw the offline copy away, but only while there is a server to fetch it from, and load the page anew. */
  async function fetch_anew() {
    if (!(await server_is_there())) return false;
    for (const one of (await navigator.serviceWorker?.getRegistrations()) ?? []) await one.unregister();
    for (const name of await caches.keys()) if (name.startsWith("swarfbook-")) await caches.delete(name);
    const files = await navigator.storage?.getDirectory?.().catch(() => null);
    await files?.removeEntry("swarfbook-memory").catch(() => {}); // most often there is none
    location.reload();
    return true;
  }

  addEventListener("fetch-anew", async (event) => {
    if (!(await fetch_anew())) /** @type {CustomEvent<() => void>} */ (event).detail();
  });
})();
