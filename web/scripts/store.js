/**
 * What the device keeps: drafts, the recent, the pinned and the things of the Shop, in IndexedDB; choices of look in
 * localStorage, because they are needed before the first paint. Where storage is refused, everything works and nothing
 * outlives the page.
 */

import { openDB } from "/vendor/idb-8.0.4/index.js";

const NAME = "swarfbook";
const VERSION = 2;
const RECENT = 8;
/** For what is said to be kept: it is written through to the device before that is said. */
const STRICT = /** @type {const} */ ({ durability: "strict" });
const GENERIC = "generic"; // stands where an id would, for who chose the generic one though he owns others

/** @typedef {{address: string, title: string, said: string, at: number}} Kept */
/** @typedef {{name: string, typed: Record<string, string>, at: number}} Draft */
/** @typedef {{id: string, sort: string, name: string, typed: Record<string, string>, said: string, at: number}} Owned */
/** @typedef {import("/vendor/idb-8.0.4/index.js").IDBPDatabase | null} Database */

/** The choices of look, each with what holds until one is made. @type {Record<string, string>} */
export const CHOICES = { units: "metric", light: "system", awake: "on", sheet_name: "" };

/** Why nothing can be kept: "" while it can, "newer" beside what a newer version wrote, else "refused". */
let refusal = "";

/** The database; null where storage is refused, or holds what a newer version wrote. @returns {Promise<Database>} */
async function open() {
  refusal = "";
  try {
    return await openDB(NAME, VERSION, {
      async upgrade(db, before, _, moving) {
        if (before < 1) {
          db.createObjectStore("drafts");
          db.createObjectStore("recent", { keyPath: "address" });
          db.createObjectStore("pinned", { keyPath: "address" });
          db.createObjectStore("jobs", { keyPath: "id" });
        }
        if (before < 2) {
          db.createObjectStore("shop", { keyPath: "id" }).createIndex("sort", "sort");
          db.createObjectStore("in_use");
          // A draft was what was typed and no more; it now says when, so that two copies of it can be told apart.
          const drafts = moving.objectStore("drafts");
          for (const name of await drafts.getAllKeys()) await drafts.put({ typed: await drafts.get(name), at: 0 }, name);
        }
      },
      blocking(_, __, event) {
        /** @type {IDBDatabase} */ (event.target).close();
        opened = Promise.resolve(null); // a newer version has taken over: this window keeps nothing more
        refusal = "newer";
      },
      terminated() {
        opened = open();
      },
    });
  } catch (problem) {
    refusal = /** @type {Error} */ (problem).name === "VersionError" ? "newer" : "refused";
    return null;
  }
}

let opened = open();

/** Why nothing can be kept here: "newer", "refused", or "" when it can. */
export async function cannot_keep() {
  await opened;
  return refusal;
}

/** Whether the browser has promised not to clear away what is kept when room is short; undefined where it does not say. */
export async function is_promised() {
  return navigator.storage?.persisted?.().catch(() => undefined);
}

/** Put one in a list by itself; settles when it is on the device. @param {string} list @param {any} one @param {string} [key] */
async function put(list, one, key) {
  const writing = /** @type {any} */ (await opened).transaction(list, "readwrite", STRICT);
  writing.store.put(one, key);
  await writing.done;
}

/** Wait until all that was given to keep so far is kept: a write to every list takes its turn after those before it. */
export async function all_kept() {
  const db = await opened;
  if (db) await db.transaction([...db.objectStoreNames], "readwrite", STRICT).done;
}

// ------------------------------------------------------------------------------------------------ drafts and lists

/** What was last typed on the page of a calculation, if anything. @param {string} name */
export async function draft(name) {
  const db = await opened;
  return /** @type {Record<string, string> | undefined} */ ((await db?.get("drafts", name))?.typed);
}

/** @param {string} name @param {Record<string, string>} typed */
export async function keep_draft(name, typed) {
  const db = await opened;
  await db?.put("drafts", { typed, at: Date.now() }, name);
}

/** @param {"recent" | "pinned"} list @returns {Promise<Kept[]>} newest first */
export async function kept(list) {
  const db = await opened;
  const all = /** @type {Kept[]} */ ((await db?.getAll(list)) ?? []);
  return all.sort((a, b) => b.at - a.at);
}

/** Put one on a list; the recent list keeps the last few. @param {"recent" | "pinned"} list @param {Kept} one */
export async function keep(list, one) {
  const db = await opened;
  if (!db) return;
  const writing = db.transaction(list, "readwrite", list === "pinned" ? STRICT : {});
  await writing.store.put(one);
  if (list === "recent") await forget_older(writing.store);
  await writing.done;
}

/** @param {any} recent the object store, open for writing */
async function forget_older(recent) {
  const all = /** @type {Kept[]} */ (await recent.getAll());
  for (const old of all.sort((a, b) => b.at - a.at).slice(RECENT)) await recent.delete(old.address);
}

/** @param {"recent" | "pinned"} list @param {string} address */
export async function drop(list, address) {
  const db = await opened;
  await db?.delete(list, address);
}

/** @param {"recent" | "pinned"} list */
export async function empty(list) {
  const db = await opened;
  await db?.clear(list);
}

// ---------------------------------------------------------------------------------------------- things of the Shop

/** Where storage is refused: what is owned until the page is closed. */
const meanwhile = { shop: /** @type {Map<string, Owned>} */ (new Map()), in_use: /** @type {Map<string, string>} */ (new Map()) };
const channel = "BroadcastChannel" in window ? new BroadcastChannel(NAME) : null;
const told = new EventTarget();
channel?.addEventListener("message", () => told.dispatchEvent(new Event("change")));

/** Call back when things of the Shop were changed, here or in another window. @param {() => void} heard @param {AbortSignal} left */
export function on_change(heard, left) {
  told.addEventListener("change", heard, { signal: left });
}

async function changed() {
  const own = Object.entries(await in_use()).filter(([, one]) => one);
  choose("mine", own.map(([sort]) => sort).join(" ")); // read before the first paint of a page that takes them
  channel?.postMessage("change");
  told.dispatchEvent(new Event("change"));
}

/** All that is owned, or all of one sort, by name. @param {string} [sort] @returns {Promise<Owned[]>} */
export async function owned(sort) {
  const db = await opened;
  const all = /** @type {Owned[]} */ (db ? await db.getAll("shop") : [...meanwhile.shop.values()]);
  const asked = sort ? all.filter((one) => one.sort === sort) : all;
  return asked.sort((a, b) => a.name.localeCompare(b.name) || a.at - b.at);
}

/** Keep one, new or changed, and ask the browser not to clear it away when room is short. @param {Owned} one */
export async function keep_owned(one) {
  const db = await opened;
  navigator.storage?.persist?.().catch(() => false);
  if (db) await put("shop", one);
  else meanwhile.shop.set(one.id, one);
  await changed();
}

/** @param {string} id */
export async function drop_owned(id) {
  const db = await opened;
  if (db) await db.delete("shop", id);
  else meanwhile.shop.delete(id);
  await changed();
}

/** Use this one of its sort from now on; without an id, the generic one. @param {string} sort @param {string} [id] */
export async function use(sort, id) {
  const db = await opened;
  if (db) await put("in_use", id ?? GENERIC, sort);
  else meanwhile.in_use.set(sort, id ?? GENERIC);
  await changed();
}

/** The one in use of each sort that is owned; null where the generic one was chosen. @returns {Promise<Record<string, Owned | null>>} */
export async function in_use() {
  const chosen = await chosen_ids();
  /** @type {Record<string, Owned | null>} */
  const found = {};
  for (const one of (await owned()).sort((a, b) => b.at - a.at)) {
    if (chosen[one.sort] === GENERIC) found[one.sort] = null;
    else if (!(one.sort in found) || one.id === chosen[one.sort]) found[one.sort] = one;
  }
  return found;
}

/** @returns {Promise<Record<string, string>>} */
async function chosen_ids() {
  const db = await opened;
  if (!db) return Object.fromEntries(meanwhile.in_use);
  const [sorts, ids] = await Promise.all([db.getAllKeys("in_use"), db.getAll("in_use")]);
  return Object.fromEntries(sorts.map((sort, place) => [String(sort), ids[place]]));
}

/** The figures of all things in use, by the name of the field. @returns {Promise<Record<string, string>>} */
export async function mine() {
  return Object.assign({}, ...Object.values(await in_use()).map((one) => one?.typed ?? {}));
}

// -------------------------------------------------------------------------------------------------------- all of it

/** @typedef {{shop: Owned[], in_use: Record<string, string>, pinned: Kept[], recent: Kept[], drafts: Draft[], choices: Record<string, string>}} Everything */

/** All that is kept here. @returns {Promise<Everything>} */
export async function everything() {
  const db = await opened;
  const names = (await db?.getAllKeys("drafts")) ?? [];
  const drafts = (await db?.getAll("drafts")) ?? [];
  return {
    shop: await owned(),
    in_use: await chosen_ids(),
    pinned: await kept("pinned"),
    recent: await kept("recent"),
    drafts: names.map((name, place) => ({ name: String(name), ...drafts[place] })),
    choices: Object.fromEntries(Object.keys(CHOICES).map((key) => [key, choice(key, CHOICES[key])])),
  };
}

/** Put these in, each over the one of its own name, and leave the rest as it is. @param {Partial<Everything>} given */
export async function put_in({ shop = [], in_use: ids = {}, pinned = [], recent = [], drafts = [], choices = {} }) {
  const db = await opened;
  if (db) {
    const writing = db.transaction(["shop", "in_use", "pinned", "recent", "drafts"], "readwrite", STRICT);
    for (const one of shop) writing.objectStore("shop").put(one);
    for (const [sort, id] of Object.entries(ids)) writing.objectStore("in_use").put(id, sort);
    for (const one of pinned) writing.objectStore("pinned").put(one);
    for (const one of recent) writing.objectStore("recent").put(one);
    for (const { name, typed, at } of drafts) writing.objectStore("drafts").put({ typed, at }, name);
    await forget_older(writing.objectStore("recent"));
    await writing.done;
  } else {
    for (const one of shop) meanwhile.shop.set(one.id, one);
    for (const [sort, id] of Object.entries(ids)) meanwhile.in_use.set(sort, id);
  }
  for (const [key, value] of Object.entries(choices)) choose(key, value);
  await changed();
}

// ---------------------------------------------------------------------------------------------------------- choices

/** A choice of look. @param {string} key @param {string} otherwise */
export function choice(key, otherwise) {
  try {
    return localStorage.getItem(key) ?? otherwise;
  } catch {
    return otherwise;
  }
}

/** @param {string} key @param {string} value */
export function choose(key, value) {
  try {
    localStorage.setItem(key, value);
  } catch {
    // Storage refused: the choice holds for this page only.
  }
}
