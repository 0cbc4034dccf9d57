/**
 * The memory of an engine that has started, kept on the device with the version's copy: the next start reads it back
 * instead of starting Python anew. An extra; whatever is wrong with it, a start does without.
 *
 * The blocks of the memory that are not all zero are a file of the origin's own, which is read in one go: out of a cache
 * it would come in pieces to a thread that is busy with other things. Which blocks they are and what proves them, written
 * last, and how starts out of it went are in a cache. Both go when another version is taken. After TRIES failures this
 * version starts without; a start that did not end, because it took the worker with it or only because the page was
 * closed, is counted apart, and fewer are suspected.
 *
 * The memory holds what was asked until then. It is kept where drafts are, and goes nowhere.
 */

const CACHE = "swarfbook-snapshot";
const MEMORY = "swarfbook-memory"; // sw.js, withdraw.js and rescue.js remove it by this name
const PROOF = "/snapshot/proof";
const RECORD = "/snapshot/record";
const FORMAT = 4;
const BLOCK = 65_536; // bytes
const COPY = /^swarfbook-[0-9a-f]{12}$/; // only beside an offline copy
const ROOM = 200e6; // bytes that have to be free
const TRIES = 2; // failures
const BEGUN = 6; // starts one after the other that did not end

/** A heap as it is kept: its length, which of its blocks are not all zero, and these. @typedef {{bytes: number, blocks: number[], kept: Uint8Array}} Heap */

/** @param {BufferSource} bytes */
async function sha256(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** What is kept for the engine made of `parts`, the addresses of its files: each of them changes with its content. */
export class Snapshot {
  /** @param {string[]} parts */
  constructor(...parts) {
    this.key = JSON.stringify([FORMAT, ...parts]);
  }

  /**
   * What to start from, null without it: the bytes that Pyodide reads first, and its heap, proved when it settles.
   * Tell how the start went with `worked` or `failed`.
   * @returns {Promise<{head: Uint8Array, heap: Promise<Heap>} | null>}
   */
  async read() {
    try {
      if (!self.caches) return null;
      const place = file(); // asked for at once: the answer comes when the engine is busy with its script
      place.catch(() => {}); // whoever reads it will hear of it
      const [proof, record] = await Promise.all([found(PROOF).then((one) => one?.json()), this.record()]);
      if (proof?.key !== this.key || is_off(record)) return null;
      const begun = this.write(record.failures, record.begun + 1);
      const heap = Promise.all([proved(proof, place), begun]).then(([kept]) => ({ ...proof, kept }));
      heap.catch(() => {}); // whoever waits for it will hear of it
      return { head: Uint8Array.from(proof.head), heap };
    } catch {
      return null; // storage is refused, or has lost it
    }
  }

  /** The start out of it stood its test. */
  async worked() {
    await this.write(0, 0);
  }

  /** It is no good: it goes, the failure stays counted. Never fails itself: a start goes on without it. */
  async failed() {
    await caches.open(CACHE).then((cache) => cache.delete(PROOF)).catch(() => {});
    await navigator.storage.getDirectory().then((files) => files.removeEntry(MEMORY)).catch(() => {}); // it may be what is missing
    await this.record().then(({ failures }) => this.write(failures + 1, 0)).catch(() => {});
  }

  /** How starts of this version went. @returns {Promise<{failures: number, begun: number}>} */
  async record() {
    const kept = await (await found(RECORD))?.json();
    return kept?.key === this.key ? kept : { failures: 0, begun: 0 };
  }

  /** @param {number} failures @param {number} begun */
  async write(failures, begun) {
    const text = JSON.stringify({ key: this.key, failures, begun });
    await (await caches.open(CACHE)).put(RECORD, new Response(text));
  }

  /** Whether one should be made: there is an offline copy, room, none for this version yet, and no word against it. */
  async wanted() {
    try {
      if (!self.caches || !self.crypto?.subtle || /** @type {any} */ (navigator).connection?.saveData) return false;
      if (!navigator.storage.getDirectory) return false;
      if (!(await caches.keys()).some((name) => COPY.test(name)) || is_off(await this.record())) return false;
      const { quota = 0, usage = 0 } = await navigator.storage.estimate();
      const proof = await (await found(PROOF))?.json();
      return proof?.key !== this.key && quota - usage > ROOM;
    } catch {
      return false;
    }
  }

  /** Keep a memory; its proof is written when it is there. @param {Uint8Array<ArrayBuffer>} memory as Pyodide makes it */
  async keep(memory) {
    const cache = await caches.open(CACHE);
    await cache.delete(PROOF);
    const [, begin] = new Uint32Array(memory.buffer, memory.byteOffset, 2); // after a mark, where the heap begins
    const [head, heap] = [memory.subarray(0, begin), memory.subarray(begin)];
    const all = Array.from({ length: Math.ceil(heap.length / BLOCK) }, (_, number) => number);
    const blocks = all.filter((number) => block(heap, number).some((byte) => byte !== 0));
    const kept = await new Blob(blocks.map((number) => block(heap, number))).arrayBuffer();
    await store(kept);
    const proof = { key: this.key, head: [...head], bytes: heap.length, blocks, sha256: await sha256(kept) };
    await cache.put(PROOF, new Response(JSON.stringify(proof)));
  }
}

/** What is kept there, without making room for it. @param {string} address */
function found(address) {
  return caches.match(address, { cacheName: CACHE });
}

/** Whether this version starts without, by how its starts went. @param {{failures: number, begun: number}} record */
function is_off({ failures, begun }) {
  return failures >= TRIES || begun >= BEGUN;
}

/** @template {ArrayBufferLike} B @param {Uint8Array<B>} heap @param {number} number */
function block(heap, number) {
  return heap.subarray(number * BLOCK, (number + 1) * BLOCK);
}

/** The file of the memory. @param {boolean} [create] @returns {Promise<any>} a FileSystemFileHandle */
async function file(create = false) {
  return (await navigator.storage.getDirectory()).getFileHandle(MEMORY, { create });
}

/** Write the file whole. @param {ArrayBuffer} bytes */
async function store(bytes) {
  const place = await file(true);
  if (place.createWritable) {
    const writing = await place.createWritable(); // the old content stands until it is closed
    await writing.write(bytes);
    return writing.close();
  }
  const writing = await place.createSyncAccessHandle();
  try {
    await writing.truncate(0);
    await writing.write(bytes, { at: 0 });
    await writing.flush();
  } finally {
    await writing.close();
  }
}

/** All of the file. @param {any} place a FileSystemFileHandle @returns {Promise<Uint8Array<ArrayBuffer>>} */
async function stored(place) {
  let reading;
  try {
    reading = await place.createSyncAccessHandle({ mode: "read-only" });
  } catch {
    return new Uint8Array(await (await place.getFile()).arrayBuffer()); // another window is just at it
  }
  try {
    const bytes = new Uint8Array(await reading.getSize());
    await reading.read(bytes, { at: 0 });
    return bytes;
  } finally {
    await reading.close();
  }
}

/**
 * All of the file; fails when it is not what its proof says.
 * @param {{sha256: string}} proof
 * @param {Promise<any>} place
 */
async function proved(proof, place) {
  const kept = await stored(await place);
  if ((await sha256(kept)) !== proof.sha256) throw new Error("the memory is not what was kept");
  return kept;
}

/** Make an interpreter's heap the one that was kept. @param {Uint8Array} now @param {Heap} heap */
function restore(now, { kept, blocks }) {
  let at = 0;
  let next = 0;
  for (const number of blocks) {
    for (; next < number; next += 1) block(now, next).fill(0);
    const place = block(now, number);
    place.set(kept.subarray(at, at + place.length));
    at += place.length;
    next = number + 1;
  }
}

/**
 * What makes Pyodide start out of a memory, which may be on its way while the interpreter is still being compiled. It is
 * given the head and puts what follows it, nothing, into its heap; what belongs there is put straight where it goes. The
 * heap is 30 MiB at first, and a larger one does not fit unless it is made to grow beforehand.
 * @param {{head: Uint8Array, heap: Promise<Heap>}} from
 * @param {(given: object) => Promise<any>} factory the interpreter's own script
 */
export function settings({ head, heap }, factory) {
  return {
    _loadSnapshot: head,
    createPyodideModule: async (/** @type {object} */ given) => {
      const [module, kept] = await Promise.all([factory(given), heap]);
      if (module.HEAP8.length < kept.bytes) module.growMemory(kept.bytes);
      restore(module.HEAP8, kept);
      return module;
    },
  };
}
