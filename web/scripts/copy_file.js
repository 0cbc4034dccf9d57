/**
 * The copy of all that is mine, as one file: made, proved, and set against what is here. The format is described in
 * DEVELOPERS.md. A file may have been made by anybody: whatever is not exactly of the form below is refused, and its
 * texts are only ever shown as text.
 */

import { sha256 } from "./sha256.js";
import { CHOICES } from "./store.js";

/** @typedef {import("./store.js").Everything} Everything */
/** @typedef {{list: string, name: string, said: string, standing: "new" | "newer" | "older" | "same", one: any}} Found */

export const FORMAT = 1;
export const LARGEST = 4_000_000; // bytes; 200 lathes and 500 pinned answers fill an eighth of it

/** Why a file cannot be put back, as a sentence for the user. */
export class Unusable extends Error {}

/** The file's text. @param {Everything} everything @param {string} created when, as ISO 8601 in UTC */
export function write(everything, created) {
  const data = /** @type {any} */ ({ ...everything });
  // A half-typed draft may hold anything at all; what could not be put back is not copied out.
  for (const [list, { fits }] of Object.entries(LISTS)) data[list] = data[list].filter(fits);
  return `${JSON.stringify({ swarfbook: FORMAT, created, sha256: sha256(JSON.stringify(data)), data }, null, 1)}\n`;
}

/** What a file holds, proved whole and of the right form. @param {string} text @returns {{created: string, data: Everything}} */
export function read(text) {
  let file;
  try {
    file = JSON.parse(text);
  } catch {
    throw new Unusable("This is not a copy out of Swarfbook. Choose the file that “Copy out” made.");
  }
  if (!is_record(file) || typeof file.swarfbook !== "number") {
    throw new Unusable("This is not a copy out of Swarfbook. Choose the file that “Copy out” made.");
  }
  if (file.swarfbook !== FORMAT) {
    throw new Unusable("This copy was made by a newer Swarfbook. Take the new version here first, then put it back.");
  }
  if (file.sha256 !== sha256(JSON.stringify(file.data))) {
    throw new Unusable("This file is not as it was made: part of it was lost or changed. Take another copy.");
  }
  if (!well_formed(file.data) || !is_date(file.created)) {
    throw new Unusable("This file holds what no Swarfbook wrote. Nothing of it was taken.");
  }
  return { created: file.created, data: file.data };
}

// -------------------------------------------------------------------------------------------------------- the form

/** @param {unknown} one @returns {one is Record<string, any>} */
const is_record = (one) => typeof one === "object" && one !== null && !Array.isArray(one);
/** Text of at most so many characters, none of them one that steers a screen. @param {unknown} one @param {number} longest */
const is_text = (one, longest) => typeof one === "string" && one.length <= longest && !/[\p{Cc}\p{Bidi_Control}]/u.test(one.replaceAll(/[\t\n\r]/g, ""));
/** @param {unknown} one @param {RegExp} pattern */
const is_like = (one, pattern) => typeof one === "string" && pattern.test(one);
/** @param {unknown} one */
const is_time = (one) => Number.isSafeInteger(one) && /** @type {number} */ (one) >= 0;
/** @param {unknown} one */
const is_date = (one) => is_like(one, /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);

const NAME = /^[a-z][a-z0-9_]{0,63}$/;
const ID = /^[0-9a-z]{8,40}$/;
const ADDRESS = /^\/c\/[a-z][a-z0-9_]{0,63}(\?[!-~]{0,8000})?$/; // a page of ours and nothing else

/** @param {unknown} one @param {string[]} keys exactly these */
const has = (one, keys) => is_record(one) && Object.keys(one).sort().join() === [...keys].sort().join();
/** @param {unknown} one */
const is_typed = (one) =>
  is_record(one) && Object.keys(one).length <= 64 && Object.entries(one).every(([name, text]) => NAME.test(name) && is_text(text, 2000));
/** @param {any} one */
const is_kept = (one) =>
  has(one, ["address", "title", "said", "at"]) &&
  is_like(one.address, ADDRESS) && !one.address.includes("#") && is_text(one.title, 8000) && is_text(one.said, 8000) && is_time(one.at);
/** @param {any} one */
const is_owned = (one) =>
  has(one, ["id", "sort", "name", "typed", "said", "at"]) &&
  is_like(one.id, ID) && is_like(one.sort, NAME) && is_text(one.name, 40) && one.name.trim() !== "" &&
  is_typed(one.typed) && is_text(one.said, 400) && is_time(one.at);
/** @param {any} one */
const is_draft = (one) => has(one, ["name", "typed", "at"]) && is_like(one.name, NAME) && is_typed(one.typed) && is_time(one.at);

/**
 * The lists of a file: which field names one, its form, how many at most, and how one is told on the screen.
 * @type {Record<string, {key: string, fits: (one: any) => boolean, most: number, called: (one: any) => string, said: (one: any) => string}>}
 */
const LISTS = {
  shop: { key: "id", fits: is_owned, most: 500, called: (one) => one.name, said: (one) => one.said },
  pinned: { key: "address", fits: is_kept, most: 10_000, called: (one) => one.title, said: (one) => one.said },
  recent: { key: "address", fits: is_kept, most: 100, called: (one) => one.title, said: (one) => one.said },
  drafts: { key: "name", fits: is_draft, most: 1000, called: (one) => one.name, said: () => "as last typed" },
};

/** @type {Record<string, (text: unknown) => boolean>} */
const CHOOSABLE = {
  units: (text) => is_like(text, /^(metric|inch)$/),
  light: (text) => is_like(text, /^(system|light|dark)$/),
  awake: (text) => is_like(text, /^(on|off)$/),
  sheet_name: (text) => is_text(text, 80),
};

/** A list of at most so many, no two of one name. @param {unknown} list @param {(one: any) => boolean} fits @param {number} most @param {string} key */
const is_list = (list, fits, most, key) =>
  Array.isArray(list) && list.length <= most && list.every(fits) && new Set(list.map((one) => one[key])).size === list.length;

/** @param {any} data */
function well_formed(data) {
  return (
    has(data, ["shop", "in_use", "pinned", "recent", "drafts", "choices"]) &&
    Object.entries(LISTS).every(([list, { key, fits, most }]) => is_list(data[list], fits, most, key)) &&
    is_record(data.in_use) && Object.entries(data.in_use).every(([sort, id]) => NAME.test(sort) && is_like(id, /^[0-9a-z]{7,40}$/)) &&
    is_record(data.choices) && Object.entries(data.choices).every(([key, text]) => Object.hasOwn(CHOOSABLE, key) && CHOOSABLE[key](text))
  );
}

// ------------------------------------------------------------------------------------------- set against what is here

/** @param {any} one as text that is the same for the same content, whatever the order of its fields */
const content = (one) => JSON.stringify(one, (_, part) => (is_record(part) ? Object.fromEntries(Object.entries(part).sort()) : part));

/** Everything in a file, each with how it stands to what is here. @param {Everything} here @param {Everything} there @returns {Found[]} */
export function compare(here, there) {
  /** @type {Found[]} */
  const found = [];
  for (const [list, { key, called, said }] of Object.entries(LISTS)) {
    const known = new Map(/** @type {any} */ (here)[list].map((/** @type {any} */ one) => [one[key], one]));
    for (const one of /** @type {any} */ (there)[list]) {
      found.push({ list, name: called(one), said: said(one), standing: standing(known.get(one[key]), one), one });
    }
  }
  for (const [sort, id] of Object.entries(there.in_use)) {
    if (here.in_use[sort] === id) continue;
    const name = there.shop.find((one) => one.id === id)?.name ?? here.shop.find((one) => one.id === id)?.name ?? "the generic one";
    found.push({ list: "in_use", name, said: sort, standing: here.in_use[sort] ? "older" : "new", one: [sort, id] });
  }
  for (const [key, text] of Object.entries(there.choices)) {
    if (here.choices[key] === text) continue;
    const standing = here.choices[key] === CHOICES[key] ? "new" : "older"; // a choice has no date: the one here stays
    found.push({ list: "choices", name: key, said: text, standing, one: [key, text] });
  }
  return found;
}

/** @param {any} known @param {any} one @returns {Found["standing"]} */
function standing(known, one) {
  if (!known) return "new";
  /** What it is, without when it was kept and how it was told then. */
  const { at: here, said: _, title: __, ...before } = known;
  const { at: there, said: ___, title: ____, ...after } = one;
  if (content(before) === content(after)) return "same";
  return there > here ? "newer" : "older";
}

/** What was chosen of a file, as `store.put_in` takes it. @param {Found[]} chosen @returns {Partial<Everything>} */
export function to_put_in(chosen) {
  /** @param {string} list */
  const of = (list) => chosen.filter((one) => one.list === list).map((one) => one.one);
  return {
    ...Object.fromEntries(Object.keys(LISTS).map((list) => [list, of(list)])),
    in_use: Object.fromEntries(of("in_use")),
    choices: Object.fromEntries(of("choices")),
  };
}
