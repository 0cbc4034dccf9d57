/**
 * Runs before the first paint, on every page: the chosen light and units, and whether the answer in the page
 * is the one that the address asks for (a page out of the offline copy was made for its defaults, and any page for
 * the generic lathe where one's own is in use). If it is not, and there is an offline copy, the engine is begun here,
 * while the app's own scripts are still coming.
 */
(() => {
  const root = document.documentElement;
  root.classList.add("js");
  try {
    const light = localStorage.getItem("light");
    if (light === "light" || light === "dark") root.dataset.light = light;
    if (localStorage.getItem("units") === "inch") root.dataset.units = "inch";
  } catch {
    // Storage refused: the page follows the system and shows millimetres first.
  }
  if (location.pathname.startsWith("/c/") && (location.search.slice(1) !== (root.dataset.renderedFor || "") || takes_mine())) {
    root.dataset.stale = "";
    if (navigator.serviceWorker?.controller) begin();
  }

  /** Begin the engine; what it says before engine.js takes it over is kept for it. */
  function begin() {
    try {
      const own = /** @type {HTMLScriptElement} */ (document.currentScript).src;
      const worker = new Worker(new URL("worker.js", own), { type: "module", name: "given its interpreter" });
      /** @type {Event[]} */
      const heard = [];
      worker.onmessage = worker.onerror = (event) => heard.push(/** @type {Event} */ (event));
      Object.assign(window, { begun: { worker, heard } });
      give(worker);
    } catch {
      // No workers here: engine.js will find out, and say so.
    }
  }

  /** Compile the interpreter on this side, which only waits, while the engine reads its other files. @param {Worker} worker */
  async function give(worker) {
    /** @type {WebAssembly.Module | null} */
    let interpreter = null;
    try {
      interpreter = await WebAssembly.compileStreaming(fetch(root.dataset.interpreter || ""));
    } catch {
      // The engine tries it itself, and says what is wrong.
    }
    worker.postMessage({ interpreter });
  }

  /** Whether a thing of the Shop will put its figures where the address says nothing of them. */
  function takes_mine() {
    try {
      const mine = (localStorage.getItem("mine") || "").split(" ");
      const given = new URLSearchParams(location.search);
      return (root.dataset.of || "").split(" ").some((/** @type {string} */ one) => {
        const [sort, names] = one.split(":");
        return mine.includes(sort) && names && !names.split(",").some((name) => given.has(name));
      });
    } catch {
      return false;
    }
  }
})();
