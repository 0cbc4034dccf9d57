/**
 * The folds of a calculation's page that Shop fills: each takes the figures of the thing in use where neither the
 * address nor a draft says otherwise, names what it holds, and lets another be picked.
 */

import { fields, fill, typed } from "./form.js";
import { in_use, on_change, owned, use } from "./store.js";

/** @typedef {import("./store.js").Owned} Owned */

const AS_IT_IS = "as it is"; // stands where an id would, for figures that are nobody's

/**
 * @param {HTMLElement} form
 * @param {() => void} refilled called when figures were put into the fields
 * @param {AbortSignal} left
 */
export function things(form, refilled, left) {
  const folds = [...form.querySelectorAll("[data-thing]")].map((one) => /** @type {HTMLElement} */ (one));
  const sorts = folds.map((fold) => fold.dataset.thing ?? "");
  /** Sorts whose figures are somebody's own words here: typed by hand, or given by the address. @type {Set<string>} */
  const typed_here = new Set();
  const linked = new Set();
  /** @type {Owned[]} */
  let all = [];
  /** @type {Record<string, Owned | null>} */
  let used = {};
  const load = async () => ([all, used] = await Promise.all([owned(), in_use()]));

  /** @param {string} sort */
  const fold_of = (sort) => /** @type {HTMLElement} */ (folds[sorts.indexOf(sort)]);
  /** @param {string} sort */
  const names = (sort) => fields(fold_of(sort)).map((field) => field.dataset.field ?? "");
  /** @param {string} sort @returns {Record<string, string>} */
  const generic = (sort) =>
    Object.fromEntries(fields(fold_of(sort)).map((field) => [field.dataset.field ?? "", field.dataset.generic ?? ""]));

  /** The figures of one, those that it does not have as the generic one has them. @param {string} sort @param {Owned | null | undefined} one */
  const figures = (sort, one) => ({ ...generic(sort), ...one?.typed });

  /** Put the figures of one into its fold; whether that changed any. @param {string} sort @param {Owned | null | undefined} one */
  function take(sort, one) {
    const before = JSON.stringify(typed(fold_of(sort)));
    for (const unit of fold_of(sort).querySelectorAll("select.unit")) /** @type {HTMLSelectElement} */ (unit).selectedIndex = 0;
    fill(fold_of(sort), figures(sort, one));
    return before !== JSON.stringify(typed(fold_of(sort)));
  }

  /** @param {string} sort @param {Owned | null} one */
  function holds(sort, one) {
    const here = typed(fold_of(sort));
    const wanted = figures(sort, one);
    return names(sort).every((name) => here[name] === wanted[name]);
  }

  /** Say whose figures stand in each fold, and offer the others. */
  function show() {
    for (const [place, sort] of sorts.entries()) {
      const own = all.filter((one) => one.sort === sort);
      const held = [used[sort] ?? null, ...own, null].find((one) => holds(sort, one));
      const name = held === undefined ? (linked.has(sort) ? "as in the link" : "typed here") : (held?.name ?? "generic");
      const said = /** @type {HTMLElement} */ (folds[place].querySelector("[data-thing-name]"));
      if (said.textContent !== name) said.textContent = name;
      const pick = /** @type {HTMLSelectElement} */ (folds[place].querySelector("[data-pick]"));
      pick.hidden = own.length === 0;
      const offered = own.map((one) => [one.name, one.id]).concat([["generic", ""]], held === undefined ? [[name, AS_IT_IS]] : []);
      if ([...pick.options].map((one) => one.text + one.value).join() !== offered.flat().join()) {
        pick.replaceChildren(...offered.map(([text, id]) => new Option(text, id)));
      }
      pick.value = held === undefined ? AS_IT_IS : (held?.id ?? "");
    }
  }

  form.addEventListener("input", (event) => {
    const box = /** @type {HTMLElement} */ (event.target);
    const sort = /** @type {HTMLElement | null} */ (box.closest("[data-thing]"))?.dataset.thing;
    if (!sort || box.dataset.pick !== undefined) return;
    typed_here.add(sort);
    linked.delete(sort);
    show();
  });
  form.addEventListener("change", async (event) => {
    const pick = /** @type {HTMLSelectElement} */ (event.target);
    const sort = pick.dataset.pick;
    if (sort === undefined || pick.value === AS_IT_IS) return;
    typed_here.delete(sort);
    linked.delete(sort);
    await use(sort, pick.value || undefined);
  });
  if (sorts.length) on_change(follow, left);

  /** Something changed in Shop, perhaps in another window: what is not typed here follows it. */
  async function follow() {
    await load();
    const following = sorts.filter((sort) => !typed_here.has(sort) && !linked.has(sort));
    const changed = following.filter((sort) => take(sort, used[sort]));
    show();
    if (changed.length) refilled();
  }

  return {
    /**
     * Fill what `given` says nothing of; settles with whether the fields differ from what the page came with.
     * @param {Record<string, string>} given by the address, or by a draft
     * @param {boolean} by_address
     */
    async open(given, by_address) {
      if (!sorts.length) return false;
      await load();
      let filled = false;
      for (const sort of sorts) {
        if (names(sort).some((name) => name in given)) (by_address ? linked : typed_here).add(sort);
        else if (take(sort, used[sort])) filled = true;
      }
      show();
      return filled;
    },

    /** What is typed here, without what Shop or the address gave: so a draft follows Shop. @param {Record<string, string>} everything */
    own(everything) {
      const others = sorts.filter((sort) => !typed_here.has(sort)).flatMap(names);
      return Object.fromEntries(Object.entries(everything).filter(([name]) => !others.includes(name)));
    },

    /** The main figures of each, in a line, as an answer says them. @param {Record<string, string>} said */
    say(said) {
      for (const [place, sort] of sorts.entries()) {
        const line = /** @type {HTMLElement} */ (folds[place].querySelector(".thing-said"));
        if (line.textContent !== said[sort]) line.textContent = said[sort] ?? "";
      }
      if (sorts.length) show();
    },
  };
}
