/** The page of one calculation: what is typed goes to whoever answers, the answer goes where it belongs. */

import { at_work } from "./at_work.js";
import { Stopped, ask } from "./engine.js";
import { fill, linked, prefer, show_problems, started, typed, wire } from "./form.js";
import { wire as wire_actions } from "./share.js";
import { choice, draft, keep, keep_draft } from "./store.js";
import { stay_awake } from "./awake.js";
import { things } from "./things.js";

const PATIENCE = 700; // ms of quiet before half-typed input is called wrong
const LATE = 150; // ms until an answer that is still the old one is shown as such
const SETTLED = 1500; // ms of quiet before an answer counts as one to find again

/** Which folds he has open, over all answers of this visit. @type {Map<string, boolean>} */
const folds = new Map();

/**
 * @param {HTMLElement} main
 * @param {AbortSignal} left aborted when the page is left
 */
export async function calculation(main, left) {
  const name = main.dataset.name ?? "";
  const form = /** @type {HTMLFormElement} */ (main.querySelector("#inputs"));
  const answer = /** @type {HTMLElement} */ (main.querySelector("#answer"));
  const detail = /** @type {HTMLElement} */ (main.querySelector("#detail"));
  let asked = 0;
  let busy = false;
  let again = false;
  /** What the address gives that is no field. @type {Record<string, string>} */
  let extras = {};
  /** What the address gives once more, until that field is typed in. @type {[string, string][]} */
  let twice = [];
  let running = new AbortController();
  let quiet = 0;
  let settled = 0;
  let addressed = 0;
  let late = 0;
  let framed = 0;
  let after_frame = 0;

  const carried = () => ({ ...extras, ...(twice.length ? typed(form) : linked(form)) });
  const query = () => new URLSearchParams([...Object.entries(carried()), ...twice]).toString();
  const address = () => `/c/${name}?${query()}`;
  const work = at_work(answer, () => running.abort(new Stopped("stopped")));

  /** @typedef {{headline: string, detail: string, spoken: string, title: string, problems: {name: string, message: string}[], things: Record<string, string>}} Reply */

  /** @param {Reply} reply @param {string} led the headline that stands there already */
  function place(reply, led) {
    clearTimeout(quiet);
    if (!reply.problems.length) return show(reply, led);
    answer.classList.add("behind");
    detail.classList.add("behind");
    quiet = window.setTimeout(() => show(reply), document.documentElement.dataset.stale === undefined ? PATIENCE : 0);
  }

  /** @param {Reply} reply */
  function show_figures(reply) {
    show_problems(form, reply.problems);
    shop.say(reply.things);
    work.place(reply.headline);
    answer.classList.remove("behind");
  }

  /** The figures are there before the rest of the sheet, which steps back unless it follows at once. @param {Reply} reply */
  function lead(reply) {
    put_off();
    appear();
    show_figures(reply);
    detail.setAttribute("aria-busy", "true");
    late = window.setTimeout(() => detail.classList.add("behind"), LATE);
  }

  /** What stands there answers something else: it makes room for what was asked. */
  function appear() {
    if (document.documentElement.dataset.stale === undefined) return;
    detail.replaceChildren();
    right();
  }

  /** What stands there answers the address. When it first did is noted for whoever measures a start. */
  function right() {
    if (document.documentElement.dataset.stale === undefined) return;
    delete document.documentElement.dataset.stale;
    performance.mark("answered");
  }

  /** @param {Reply} reply @param {string} led the headline that stands there already, if one does */
  function show(reply, led = "") {
    if (left.aborted) return;
    if (led !== reply.headline) show_figures(reply);
    place_detail(reply.detail);
    right();
    document.title = `${reply.title} · Swarfbook`;
    clearTimeout(settled);
    const answered = address();
    settled = window.setTimeout(() => {
      if (left.aborted || answered !== address()) return;
      /** @type {HTMLElement} */ (document.getElementById("spoken")).textContent = reply.spoken;
      if (!reply.problems.length) {
        keep("recent", { address: address(), title: reply.title, said: reply.spoken, at: Date.now() });
      }
    }, SETTLED);
    main.dispatchEvent(new CustomEvent("answered", { detail: { ...reply, address: address() } }));
  }

  /**
   * Picture, tables and working take longer to lay out than the figures: they follow in the task after the frame that
   * shows these, unless nothing else can be seen anyway.
   * @param {string} markup
   */
  function place_detail(markup) {
    put_off();
    const place = () => {
      detail.innerHTML = markup;
      for (const fold of detail.querySelectorAll("details")) fold.open = folds.get(fold.id) ?? fold.open;
      detail.classList.remove("behind");
      detail.removeAttribute("aria-busy");
    };
    if (document.hidden || document.documentElement.dataset.stale !== undefined) return place();
    detail.setAttribute("aria-busy", "true");
    framed = requestAnimationFrame(() => {
      after_frame = window.setTimeout(place);
    });
  }

  /** What was to be done with an older answer is not done any more. */
  function put_off() {
    clearTimeout(late);
    cancelAnimationFrame(framed);
    clearTimeout(after_frame);
  }

  /** A long search shows the best it has; the rest of the sheet steps back until it has ended. @param {Reply} best */
  function show_so_far(best) {
    clearTimeout(late);
    appear();
    work.place(best.headline);
    answer.classList.remove("behind");
    detail.classList.add("behind");
    work.so_far();
  }

  async function refresh() {
    if (busy) {
      again = true;
      running.abort();
      return;
    }
    busy = true;
    clearTimeout(quiet); // what was wrong before is not what is asked now
    const mine = ++asked;
    running = new AbortController();
    /** @type {Reply | null} */
    let best = null;
    let led = "";
    work.begin();
    try {
      const question = { name, typed: { ...extras, ...typed(form) }, twice: twice.map(([one]) => one) };
      const so_far = (/** @type {string} */ text) => {
        if (again || left.aborted) return;
        best = JSON.parse(text);
        show_so_far(/** @type {Reply} */ (best));
      };
      const first = (/** @type {string} */ text) => {
        if (left.aborted) return;
        const part = JSON.parse(text);
        lead(part);
        led = part.headline;
      };
      const reply = JSON.parse(await ask("sheet", question, { first, so_far, signal: running.signal }));
      work.end();
      if (mine === asked && !left.aborted) place(reply, led);
    } catch (problem) {
      work.end();
      if (left.aborted || again) return;
      if (problem instanceof Stopped) stopped(best);
      else cannot(`No answer: ${/** @type {Error} */ (problem).message}. What you typed is kept. `, "Try again");
    } finally {
      busy = false;
      if (again && !left.aborted) {
        again = false;
        refresh();
      }
    }
  }

  /** What a search had when it was stopped is shown with what was proved by then. @param {Reply | null} best */
  function stopped(best) {
    if (!best) return cannot("Stopped before there was an answer. What you typed is kept. ", "Work it out");
    show(best);
    const said = with_button("Stopped: this is the best found by then, with what was proved by then. ", "Start again");
    said.classList.replace("stop", "mind");
    answer.append(said);
  }

  /** There is no answer: say why, keep what was typed. @param {string} why @param {string} remedy */
  function cannot(why, remedy) {
    clearTimeout(late);
    delete document.documentElement.dataset.stale;
    detail.classList.add("behind");
    answer.classList.remove("behind");
    answer.replaceChildren(with_button(why, remedy));
    /** @type {HTMLElement} */ (document.getElementById("spoken")).textContent = why;
  }

  /** @param {string} why @param {string} remedy */
  function with_button(why, remedy) {
    const said = document.createElement("p");
    said.className = "verdict stop with-button";
    said.textContent = why;
    const retry = document.createElement("button");
    retry.type = "button";
    retry.className = "go";
    retry.textContent = remedy;
    retry.onclick = () => {
      step_back();
      refresh();
    };
    said.append(retry);
    return said;
  }

  /** What stands there answers what was typed before: unless the new answer is quick, it steps back until then. */
  function step_back() {
    clearTimeout(late);
    late = window.setTimeout(() => {
      answer.classList.add("behind");
      detail.classList.add("behind");
    }, LATE);
  }

  function remember() {
    keep_draft(name, shop.own(typed(form)));
    clearTimeout(addressed);
    addressed = window.setTimeout(write_address, 250);
  }

  function write_address() {
    clearTimeout(addressed);
    if (!left.aborted) history.replaceState(history.state, "", address());
  }

  // Where a field in focus may stand depends on how much of the screen the answer takes. Said of the root alone: a
  // property that is inherited would have the browser look at every element anew.
  const root = document.documentElement;
  const measured = new ResizeObserver(() => (root.style.scrollPaddingTop = `${answer.offsetHeight + 10}px`));
  measured.observe(answer);
  left.addEventListener("abort", () => {
    running.abort();
    work.end();
    measured.disconnect();
    root.style.scrollPaddingTop = "";
  });

  const shop = things(form, () => {
    remember();
    refresh();
  }, left);
  wire(form);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", (event) => {
    const box = /** @type {HTMLElement} */ (event.target);
    if (box.classList.contains("beside") || box.dataset.pick !== undefined) return;
    const field = /** @type {HTMLElement | null} */ (box.closest("[data-field]"))?.dataset.field;
    twice = twice.filter(([one]) => one !== field);
    remember();
    step_back();
    refresh();
    stay_awake(left);
  });
  form.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !(event.target instanceof HTMLInputElement)) return;
    const inputs = [...form.querySelectorAll("input:not([type=radio]), textarea")].filter((one) => one.getClientRects().length);
    const following = /** @type {HTMLElement | undefined} */ (inputs[inputs.indexOf(event.target) + 1]);
    if (following) following.focus();
    else event.target.blur();
  });
  detail.addEventListener("toggle", (event) => {
    const fold = /** @type {HTMLDetailsElement} */ (event.target);
    if (fold.id) folds.set(fold.id, fold.open);
  }, { capture: true });
  answer.addEventListener("click", (event) => {
    const to = /** @type {HTMLElement} */ (event.target).closest("a[href^='#']");
    if (!to) return;
    event.preventDefault();
    document.getElementById((to.getAttribute("href") ?? "#").slice(1))?.focus();
  });
  addEventListener("pagehide", write_address, { signal: left });
  main.addEventListener("leave", write_address);
  wire_actions(main, address);

  const pairs = [...new URLSearchParams(location.search)];
  const first = new Set(pairs.map(([one]) => one));
  const once = pairs.filter(([one]) => first.delete(one));
  const given = Object.fromEntries(once);
  twice = pairs.filter((pair) => !once.includes(pair));
  const known = typed(form);
  extras = Object.fromEntries(Object.entries(given).filter(([key]) => !(key in known)));
  const before = location.search ? given : await draft(name);
  const rendered = document.documentElement.dataset.renderedFor ?? "";
  const as_rendered = location.search ? location.search.slice(1) === rendered : rendered === "" && !before;
  const early = started(form);
  if (before) fill(form, before);
  fill(form, early);
  const touched = Object.keys(early).length > 0;
  const filled = await shop.open(before ?? {}, location.search !== "");
  prefer(form, choice("units", "metric"));
  if (as_rendered && !filled && !touched) {
    delete document.documentElement.dataset.stale;
    if (location.search) keep_draft(name, shop.own(typed(form)));
  } else {
    document.documentElement.dataset.stale = "";
    if (filled && location.search) write_address();
    if (touched) remember();
    await refresh();
  }
}
