/**
 * Runs before the first paint, on every page: the chosen light and units, and whether the answer in the page
 * is the one that the address asks for (a page out of the offline copy was made for its defaults).
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
  if (location.pathname.startsWith("/c/") && location.search.slice(1) !== (root.dataset.renderedFor || "")) {
    root.dataset.stale = "";
  }
})();
