/**
 * What the device keeps: drafts, the recent and the pinned, in IndexedDB; two choices of look in localStorage,
 * because they are needed before the first paint. Where storage is refused, everything works and nothing is kept.
 */

import { openDB } from "/vendor/idb-8.0.4/index.js";

const NAME = "swarfbook";
const VERSION = 1;
const RECENT = 8;

/** @typedef {{address: string, title: string, said: string, at: number}} Kept */

/** @type {Promise<import("/vendor/idb-8.0.4/index.js").IDBPDatabase | null>} */
const opened = openDB(NAME, VERSION, {
  upgrade(db) {
    db.createObjectStore("drafts");
    db.createObjectStore("recent", { keyPath: "address" });
    db.createObjectStore("pinned", { keyPath: "address" });
    db.createObjectStore("jobs", { keyPath: "id" });
  },
  blocking(_, __, event) {
    /** @type {IDBDatabase} */ (event.target).close();
  },
}).catch(() => null);

/** What was last typed on the page of a calculation, if anything. @param {string} name */
export async function draft(name) {
  const db = await opened;
  return /** @type {Record<string, string> | undefined} */ (await db?.get("drafts", name));
}

/** @param {string} name @param {Record<string, string>} typed */
export async function keep_draft(name, typed) {
  const db = await opened;
  await db?.put("drafts", typed, name);
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
  const writing = db.transaction(list, "readwrite", { durability: list === "pinned" ? "strict" : "default" });
  await writing.store.put(one);
  if (list === "recent") {
    const all = /** @type {Kept[]} */ (await writing.store.getAll());
    for (const old of all.sort((a, b) => b.at - a.at).slice(RECENT)) await writing.store.delete(old.address);
  }
  await writing.done;
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

/** Whether anything can be kept here at all. */
export async function can_keep() {
  return (await opened) !== null;
}

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
