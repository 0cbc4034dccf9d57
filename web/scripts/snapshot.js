/**
 * The memory of an engine that has started, kept on the device with the version's copy: the next start reads it back
 * instead of starting Python anew. An extra; whatever is wrong with it, a start does without.
 *
 * It is one cache, which goes with the old copies when another version is taken: the memory, then, written last, what
 * proves it, and how starts out of it went. After TRIES failures this version starts without; a start that did not end,
 * because it took the worker with it or only because the page was closed, is counted apart, and fewer are suspected.
 *
 * The memory holds what was asked until then. It is kept where drafts are, and goes nowhere.
 */

const CACHE = "swarfbook-snapshot";
const MEMORY = "/snapshot/memory";
const PROOF = "/snapshot/proof";
const RECORD = "/snapshot/record";
const FORMAT = 1;
const COPY = /^swarfbook-[0-9a-f]{12}$/; // only beside an offline copy
const ROOM = 200e6; // bytes that have to be free
const TRIES = 2; // failures
const BEGUN = 6; // starts one after the other that did not end

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

  /** The memory to start from, proved; null without one. Tell how the start went with `worked` or `failed`. */
  async read() {
    try {
      if (!self.caches || !(await caches.has(CACHE))) return null;
      const cache = await caches.open(CACHE);
      const proof = await (await cache.match(PROOF))?.json();
      if (proof?.key !== this.key || (await this.is_off())) return null;
      const { failures, begun } = await this.record();
      await this.write(failures, begun + 1);
      const memory = new Uint8Array(await /** @type {Response} */ (await cache.match(MEMORY)).arrayBuffer());
      if (memory.length === proof.bytes && (await sha256(memory)) === proof.sha256) return memory;
      await this.failed();
    } catch {
      // storage is refused, or has lost it
    }
    return null;
  }

  /** The start out of it stood its test. */
  async worked() {
    await this.write(0, 0);
  }

  /** It is no good: it goes, the failure stays counted. */
  async failed() {
    const cache = await caches.open(CACHE);
    await cache.delete(PROOF);
    await cache.delete(MEMORY);
    await this.write((await this.record()).failures + 1, 0);
  }

  /** Whether this version starts without. */
  async is_off() {
    const { failures, begun } = await this.record();
    return failures >= TRIES || begun >= BEGUN;
  }

  /** How starts of this version went. @returns {Promise<{failures: number, begun: number}>} */
  async record() {
    const kept = await (await (await caches.open(CACHE)).match(RECORD))?.json();
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
      if (!(await caches.keys()).some((name) => COPY.test(name)) || (await this.is_off())) return false;
      const { quota = 0, usage = 0 } = await navigator.storage.estimate();
      const proof = await (await (await caches.open(CACHE)).match(PROOF))?.json();
      return proof?.key !== this.key && quota - usage > ROOM;
    } catch {
      return false;
    }
  }

  /** Keep a memory; its proof is written when it is there. @param {Uint8Array<ArrayBuffer>} memory */
  async keep(memory) {
    const cache = await caches.open(CACHE);
    await cache.delete(PROOF);
    await cache.put(MEMORY, new Response(memory));
    const proof = { key: this.key, bytes: memory.length, sha256: await sha256(memory) };
    await cache.put(PROOF, new Response(JSON.stringify(proof)));
  }
}

/**
 * What makes Pyodide start out of a memory. Its own heap is 30 MiB at first, and a larger memory does not fit unless it
 * is made to grow beforehand.
 * @param {Uint8Array} memory
 * @param {string} home
 */
export function settings(memory, home) {
  return {
    _loadSnapshot: memory,
    createPyodideModule: async (/** @type {object} */ given) => {
      const { default: factory } = await import(`${home}pyodide.asm.mjs`);
      const module = await factory(given);
      if (module.HEAP8.length < memory.length) module.growMemory(memory.length);
      return module;
    },
  };
}
