/**
 * The offline copy. The server puts the list of its files in front of this text: self.OFFLINE = {version, files}, each
 * file with its address, SHA-256 and length. A copy counts only when every file of the list is there and proved;
 * nothing else is ever put into the cache, and what the user typed is never in it.
 *
 * A window may send {ask: "whole"}, {ask: "mend"} (fetch what is missing) or, to a worker that waits, {take: true};
 * the first two are replied to with {whole, version}. Windows are told {fetched: percent}, {failed: why} and, before
 * another version takes over, {save: true}, with a port to say that it is done.
 */

/** @type {{version: string, files: {url: string, sha256: string, bytes: number}[]}} */
const { version, files } = self.OFFLINE;
const CACHE = `swarfbook-${version}`;
const MINE = /^swarfbook-/;
const NOT_HERE = "/not-here";
const PATIENCE = 3_000; // ms that a window is given to save what was typed
const HASH = "x-sha256"; // kept with each stored file, so that an unchanged one is copied and not fetched again
const listed = new Map(files.map((one) => [one.url, one]));

/** @param {ArrayBuffer} bytes */
async function sha256(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** @param {object} message */
async function tell(message) {
  for (const client of await self.clients.matchAll({ includeUncontrolled: true })) client.postMessage(message);
}

/** Fetch one file past every cache and prove it. @param {{url: string, sha256: string}} one */
async function fetched(one) {
  const reply = await fetch(new Request(one.url, { cache: "reload" }));
  if (!reply.ok || reply.type !== "basic" || reply.redirected) throw new Error(`${one.url} answered ${reply.status}`);
  const bytes = await reply.arrayBuffer();
  if ((await sha256(bytes)) !== one.sha256) throw new Error(`${one.url} is not the file that the list names`);
  const headers = new Headers(reply.headers);
  for (const name of ["content-encoding", "content-length", "transfer-encoding"]) headers.delete(name);
  headers.set(HASH, one.sha256);
  return new Response(bytes, { status: 200, headers });
}

/** Stored files of every copy by hash. */
async function stored_by_hash() {
  /** @type {Map<string, {cache: Cache, request: Request}>} */
  const found = new Map();
  for (const name of (await caches.keys()).filter((one) => MINE.test(one))) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      const hash = (await cache.match(request, { ignoreVary: true }))?.headers.get(HASH);
      if (hash) found.set(hash, { cache, request });
    }
  }
  return found;
}

/** Bring the copy to whole, file by file; what is already there and proved is not fetched again. */
async function complete() {
  const cache = await caches.open(CACHE);
  const known = await stored_by_hash();
  const total = files.reduce((sum, one) => sum + one.bytes, 0);
  let done = 0;
  for (const one of files) {
    const here = await cache.match(one.url, { ignoreVary: true });
    if (here?.headers.get(HASH) !== one.sha256) {
      const elsewhere = known.get(one.sha256);
      const copy = elsewhere && (await elsewhere.cache.match(elsewhere.request, { ignoreVary: true }));
      await cache.put(one.url, copy ?? (await fetched(one)));
    }
    done += one.bytes;
    await tell({ fetched: Math.floor((100 * done) / total) });
  }
}

async function is_whole() {
  const cache = await caches.open(CACHE);
  for (const one of files) {
    if ((await cache.match(one.url, { ignoreVary: true }))?.headers.get(HASH) !== one.sha256) return false;
  }
  return true;
}

/** Make the copy whole, or tell the windows why it is not. @param {boolean} installing */
async function make_whole(installing) {
  try {
    await complete();
  } catch (problem) {
    const no_room = problem.name === "QuotaExceededError";
    // Half a copy is kept, so that the rest can follow; but not on a device that has no room for it.
    if (no_room && installing) await caches.delete(CACHE);
    await tell({ failed: no_room ? "no room" : "not fetched" });
    throw problem;
  }
}

self.addEventListener("install", (event) => event.waitUntil(make_whole(true)));

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (MINE.test(name) && name !== CACHE) await caches.delete(name);
      await forget_memory();
      await self.clients.claim();
    })(),
  );
});

/** The memory of an engine, kept by snapshot.js, belongs to the version before. */
async function forget_memory() {
  try {
    await (await navigator.storage.getDirectory()).removeEntry("swarfbook-memory");
  } catch {
    // none was kept, or there is no such place in this browser
  }
}

self.addEventListener("message", (event) => {
  const { take, ask } = event.data;
  if (take) event.waitUntil(saved_everywhere().then(() => self.skipWaiting()));
  if (ask) event.waitUntil(reply(ask, event.ports[0]));
});

/** @param {"whole" | "mend"} ask @param {MessagePort} port */
async function reply(ask, port) {
  if (ask === "mend") await make_whole(false).catch(() => {});
  port.postMessage({ whole: await is_whole(), version });
}

/** Have every window save what was typed; one that is asleep or of an older kind is not waited for long. */
async function saved_everywhere() {
  const windows = await self.clients.matchAll({ includeUncontrolled: true, type: "window" });
  const saved = windows.map(
    (one) =>
      new Promise((settle) => {
        const channel = new MessageChannel();
        channel.port1.onmessage = settle;
        one.postMessage({ save: true }, [channel.port2]);
      }),
  );
  await Promise.race([Promise.all(saved), new Promise((late) => setTimeout(late, PATIENCE))]);
}

/** The copy, opened once for all that a page asks for at once. @type {Promise<Cache> | null} */
let opened = null;

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin || request.headers.has("range")) return;
  const one = listed.get(url.pathname);
  if (one) event.respondWith(from_copy(one, request));
  else if (request.mode === "navigate") event.respondWith(fetch(request).catch(not_here));
});

/** The page that says so, for an address that the copy has not while nobody else can be asked. */
async function not_here() {
  const cache = await caches.open(CACHE);
  return (await cache.match(NOT_HERE, { ignoreVary: true })) ?? Response.error();
}

/** A listed file out of the copy; one that has gone missing is fetched, and put back only if it is the right one. */
async function from_copy(one, request) {
  opened ??= caches.open(CACHE);
  const here = await (await opened).match(one.url, { ignoreVary: true });
  if (here) return here;
  opened = null; // it may have been cleared away as a whole
  try {
    const mended = await fetched(one);
    await (await caches.open(CACHE)).put(one.url, mended.clone());
    return mended;
  } catch {
    return fetch(request);
  }
}
