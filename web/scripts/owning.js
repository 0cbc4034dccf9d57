/**
 * The things of the Shop: which are mine, which is in use, and the form of one. What is typed is kept as soon as
 * Python finds nothing wrong with it; until then the last good one stands, and the page says so. What is not kept yet
 * is set aside with each stroke, in the window's own storage: the page may be loaded anew before it can be checked.
 */

import { ask } from "./engine.js";
import { fields, fill, prefer, show_problems, typed, wire } from "./form.js";
import { choice, drop_owned, in_use, keep_owned, on_change, owned, use } from "./store.js";

/** @typedef {import("./store.js").Owned} Owned */

const QUIET = 400; // ms without a stroke until what was typed is checked and kept
const LONGEST_NAME = 40;
const ASIDE = "not kept yet: "; // and the sort

/** A name for a new thing that no other window can have given. */
export const new_id = () => [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0")).join("");

/** A name as typed, without what does not show. @param {string} text */
const plain_name = (text) => text.replaceAll(/[\p{Cc}\p{Bidi_Control}]/gu, "").trim().slice(0, LONGEST_NAME);

/** @typedef {{id: string, name: string, typed: Record<string, string>, before: Owned | null}} Aside */

/** Set aside what stands in a form, or with null forget it. @param {string} sort @param {Aside | null} what */
function set_aside(sort, what) {
  try {
    if (what) sessionStorage.setItem(ASIDE + sort, JSON.stringify(what));
    else sessionStorage.removeItem(ASIDE + sort);
  } catch {
    // Storage is refused or full: what is not kept lasts as long as the page.
  }
}

/** @param {string} sort @returns {Aside | null} */
function aside(sort) {
  try {
    return JSON.parse(sessionStorage.getItem(ASIDE + sort) ?? "null");
  } catch {
    return null;
  }
}

/** @param {HTMLElement} main @param {AbortSignal} left */
export async function owning(main, left) {
  const sections = [...main.querySelectorAll("[data-thing]")].map((one) => section(/** @type {HTMLElement} */ (one), left));
  const show = () => Promise.all(sections.map((one) => one.show()));
  on_change(show, left);
  await show();
  await Promise.all(sections.map((one) => one.resume()));
  const wanted = new URLSearchParams(location.search).get("of");
  if (wanted && /^[a-z]+$/.test(wanted)) main.querySelector(`#own-${wanted}`)?.scrollIntoView();
}

/**
 * One sort of thing. Gives what shows it as it is kept, and what opens its form again on what was set aside.
 * @param {HTMLElement} place
 * @param {AbortSignal} left
 */
function section(place, left) {
  const sort = place.dataset.thing ?? "";
  const label = place.dataset.label ?? "";
  /** @param {string} wanted @returns {any} */
  const part = (wanted) => place.querySelector(wanted);
  const [list, form, row, notice] = [part(".owned"), part("form"), part("template"), part(".notice")];
  const [heading, state, name] = [part("[data-heading]"), part("[data-state]"), form.elements.namedItem(`${sort}_name`)];
  const generic = Object.fromEntries(fields(form).map((field) => [field.dataset.field ?? "", field.dataset.generic ?? ""]));
  /** What the form is open on, and how it was when it was opened; null while it is closed. @type {{now: Owned, before: Owned | null} | null} */
  let open = null;
  let pending = 0; // a timer, or 0 when no check waits for a pause in typing
  let asked = 0;
  let newest = Promise.resolve(true); // the last check begun: whether what stands in the form is kept
  let unkept = false; // whether something was typed that is not kept, or not yet

  async function show() {
    const [own, used] = [await owned(sort), (await in_use())[sort]];
    const rows = own.map((one) => draw(one.name, one.said, one.id, one.id === used?.id));
    const stands_in = draw("Generic", place.dataset.said ?? "", "", !used);
    const at = /** @type {any} */ (list.contains(document.activeElement) ? document.activeElement : null);
    lay([...rows, stands_in]);
    if (at && !at.isConnected) list.querySelector(at.dataset.edit ? `[data-edit="${at.dataset.edit}"]` : `input[value="${at.value}"]`)?.focus();
    part("[data-do=add]").hidden = own.length > 0 && place.dataset.several === undefined;
    part("[data-do=add]").textContent = own.length ? `Add another ${label.toLowerCase()}` : "Make it mine";
    const other = open && own.find((one) => one.id === open?.now.id);
    if (open && !other && !unkept) close();
    else if (open && other && other.at > open.now.at && !unkept) {
      open.now = other;
      put(other);
      say("Changed in another window.");
    }
  }

  /** Put the rows where the old ones stand; one that is the same stays, since it may just be pressed. @param {any[]} rows */
  function lay(rows) {
    for (const [place, row] of rows.entries()) {
      const old = list.children[place];
      if (!old) list.append(row);
      else if (old.isEqualNode(row)) old.querySelector("input").checked = row.querySelector("input").checked;
      else old.replaceWith(row);
    }
    while (list.children.length > rows.length) list.lastElementChild.remove();
  }

  /** @param {string} called @param {string} said @param {string} id @param {boolean} used */
  function draw(called, said, id, used) {
    const drawn = row.content.firstElementChild.cloneNode(true);
    drawn.querySelector("b").textContent = called;
    drawn.querySelector(".said").textContent = said;
    const [radio, edit] = [drawn.querySelector("input"), drawn.querySelector("button")];
    radio.checked = used;
    radio.value = id;
    edit.hidden = !id;
    edit.setAttribute("aria-label", `Edit ${called}`);
    edit.dataset.edit = id;
    return drawn;
  }

  /** @param {string} text */
  const say = (text) => (state.textContent = text);

  /** @param {string} text */
  function show_name_problem(text) {
    part("[data-named]").classList.toggle("wrong", text !== "");
    part("[data-named] .problem").textContent = text;
  }

  /** @param {Owned} one */
  function put(one) {
    for (const unit of form.querySelectorAll("select.unit")) unit.selectedIndex = 0;
    name.value = one.name;
    fill(form, { ...generic, ...one.typed });
    prefer(form, choice("units", "metric"));
    show_problems(form, []);
    show_name_problem("");
    heading.textContent = `${label}: ${one.name}`;
  }

  /** @param {Owned} one @param {Owned | null} before */
  function edit(one, before) {
    open = { now: one, before };
    put(one);
    say("Kept on this device.");
    form.hidden = false;
    notice.hidden = true;
    name.focus();
  }

  /** Go on where the page was loaded anew before all that was typed was kept. */
  async function resume() {
    const left_off = aside(sort);
    const one = left_off && (await owned(sort)).find(({ id }) => id === left_off.id);
    if (!one || open) return;
    open = { now: one, before: left_off.before };
    put({ ...one, name: left_off.name, typed: left_off.typed });
    form.hidden = false;
    unkept = true;
    await check();
  }

  function close() {
    clearTimeout(pending);
    pending = 0;
    asked += 1;
    newest = Promise.resolve(true);
    unkept = false;
    open = null;
    form.hidden = true;
    set_aside(sort, null);
  }

  /** Check what stands in the form, and keep it if nothing is wrong; settles with whether it is kept. */
  function check() {
    clearTimeout(pending);
    pending = 0;
    if (open) newest = keep_as_typed(open);
    return newest;
  }

  /** @param {{now: Owned, before: Owned | null}} opened @returns {Promise<boolean>} */
  async function keep_as_typed({ now, before }) {
    const mine = ++asked;
    const one = { ...now, name: plain_name(name.value), typed: typed(form), at: Date.now() };
    try {
      const { said, problems } = JSON.parse(await ask("shop", { sort, typed: one.typed }));
      if (mine !== asked) return newest; // typed on, undone or removed meanwhile
      show_problems(form, problems);
      show_name_problem(one.name ? "" : "Give it a name.");
      if (problems.length || !one.name) {
        say("Not kept yet: put right what is marked. The last good one stands.");
        return false;
      }
      open = { before, now: { ...one, said } };
      heading.textContent = `${label}: ${one.name}`;
      await keep_owned(open.now);
      if (mine !== asked) return newest;
      unkept = pending !== 0;
      if (!unkept) set_aside(sort, null);
      say("Kept on this device.");
      return true;
    } catch (problem) {
      if (mine !== asked) return newest;
      say(`Not kept: ${/** @type {Error} */ (problem).message}`);
      return false;
    }
  }

  /** Before the form is given up: whether all that was typed in it is kept. If it is not, the form shows why. */
  async function finished() {
    while (open && unkept) {
      if (await check()) continue;
      (form.querySelector(".wrong :is(input, textarea, select)") ?? name).focus();
      return false;
    }
    return true;
  }

  /** Check at once what waits for a pause in typing. */
  function settle() {
    if (pending) check();
  }

  form.addEventListener("input", () => {
    unkept = true;
    if (open) set_aside(sort, { id: open.now.id, name: name.value, typed: typed(form), before: open.before });
    clearTimeout(pending);
    pending = window.setTimeout(check, QUIET);
  });
  form.addEventListener("change", settle);
  form.addEventListener("submit", (/** @type {Event} */ event) => event.preventDefault());
  left.addEventListener("abort", settle);
  addEventListener("pagehide", settle, { signal: left });
  wire(form);

  list.addEventListener("change", (/** @type {Event} */ event) => {
    use(sort, /** @type {HTMLInputElement} */ (event.target).value || undefined);
  });
  list.addEventListener("click", async (/** @type {Event} */ event) => {
    const id = /** @type {HTMLElement} */ (event.target).dataset.edit;
    if (!id || !(await finished())) return;
    const one = (await owned(sort)).find((each) => each.id === id);
    if (one) edit(one, one);
  });

  /** @type {Record<string, () => Promise<void> | void>} */
  const doing = {
    async add() {
      if (!(await finished())) return;
      const count = (await owned(sort)).length;
      const called = place.dataset.several === undefined ? `My ${label.toLowerCase()}` : `${label} ${count + 1}`;
      const one = { id: new_id(), sort, name: called, typed: generic, said: place.dataset.said ?? "", at: Date.now() };
      await keep_owned(one);
      if (count === 0) await use(sort, one.id);
      edit(one, null);
      name.select();
    },
    async done() {
      if (await finished()) close();
    },
    async undo() {
      if (!open) return;
      const { before, now } = open;
      close();
      if (before) await keep_owned({ ...before, at: Date.now() });
      else await drop_owned(now.id);
    },
    async remove() {
      if (!open) return;
      const one = open.now;
      const used = (await in_use())[sort]?.id === one.id;
      close();
      await drop_owned(one.id);
      notice.querySelector("span").textContent = `“${one.name}” is removed.`;
      notice.hidden = false;
      notice.querySelector("button").onclick = async () => {
        notice.hidden = true;
        await keep_owned(one);
        if (used) await use(sort, one.id);
      };
      notice.querySelector("button").focus();
    },
  };
  place.addEventListener("click", (event) => {
    const pressed = /** @type {HTMLElement} */ (event.target).closest("[data-do]");
    doing[/** @type {HTMLElement | null} */ (pressed)?.dataset.do ?? ""]?.();
  });

  return { show, resume };
}
