/**
 * The engine: CPython (Pyodide) with calc/, in a worker of its own so that the page never waits for it.
 *
 * It starts by itself, and says {ready, restored} or {failed}; where its name says so, it is sent {interpreter} first,
 * compiled, or null to do that itself. Messages in: {id, op, args, telling, leading}. Out:
 * {id, text} or {id, problem}. Before it, where `telling` is asked for, any number of {id, so_far}: the best answer yet,
 * "" as a sign of life; where `leading` is, {id, first}: the answer without its detail. {kept} tells that a snapshot was
 * made while nobody asked.
 */

import { HOME, INTERPRETER, LOCK, PACKAGES, SCRIPT, STDLIB } from "./engine_files.js";
import { Snapshot, settings } from "./snapshot.js";

/** What may be asked, as Python that leaves its text in the last line. */
const OPS = `
import json
from calc import answer_json
from calc.owned import shop_json
from calc.sheet import callout_sheet, sheet

def ask(op, args, tell, first):
    given = json.loads(args)
    if op == "sheet":
        return sheet(given["name"], given["typed"], given.get("twice", ()), tell, first)
    if op == "callout":
        return callout_sheet(given["text"], given.get("mine", {}))
    if op == "shop":
        return shop_json(given["sort"], given["typed"])
    if op == "qr":
        from calc.qr import qr
        return qr(given["link"])
    if op == "json":
        return answer_json(given["name"], given["typed"])
    raise ValueError(f"no such question: {op}")

ask
`;

const ARCHIVE = new URL("../calc.zip", self.location.href).href;
const CALC = "/lib/calc.zip"; // where it is for Python
const PAUSE = 300; // ms without a question, until what only some answers need is brought
const IDLE = 2000; // ms without a question, until there is time for what makes the next start faster
const RESTORE_LIMIT = 20_000; // ms

/** What is to be done when nobody asks, once. @type {(() => void) | null} */
let idle = null;
let pausing = 0;
let resting = 0;

/** Takes the interpreter that was compiled elsewhere. @type {(interpreter: WebAssembly.Module | null) => void} */
let given = () => {};

/** @typedef {(text: string) => void} Tell */

/** @type {((op: string, args: string, tell?: Tell, first?: Tell) => string) | null} */
let python = null;

/** Brings what only some answers need: the same promise however often it is asked for. @type {() => Promise<void>} */
let rest = async () => {};
let complete = false;

/** @param {string} address */
async function bytes(address) {
  const reply = await fetch(address);
  if (!reply.ok) throw new Error(`${address} answered ${reply.status}`);
  return reply.arrayBuffer();
}

/** @param {string} path */
const here = (path) => new URL(path, self.location.href).href;

/** Replies that are there, or on their way, before Pyodide asks for them; by address. @type {Map<string, Promise<Response>>} */
const ahead = new Map();
const usual_fetch = self.fetch;
self.fetch = (asked, ...how) => {
  const here = ahead.get(String(asked));
  ahead.delete(String(asked));
  return here ?? usual_fetch(asked, ...how);
};

/** Start out of the memory that is kept, else anew; says which. */
async function start() {
  const snapshot = new Snapshot(HOME, INTERPRETER, SCRIPT, STDLIB, PACKAGES, ARCHIVE);
  const memory = snapshot.read();
  const script = import(here(SCRIPT));
  script.catch(() => {}); // whoever needs it will hear of it
  const home = here(HOME);
  const given = { indexURL: home, packageBaseUrl: home, stdLibURL: here(STDLIB), lockFileContents: LOCK };
  ahead.set(`${home}pyodide.asm.wasm`, Promise.resolve(new Response())); // it is being compiled already
  const kept = await memory;
  if (kept) {
    try {
      ahead.set(here(STDLIB), Promise.resolve(new Response())); // the memory has what a first answer needs of it
      const { default: factory, loadPyodide } = await script;
      const pyodide = await in_time(loadPyodide({ ...given, ...settings(kept, factory) }));
      prove(pyodide);
      snapshot.worked().catch(() => {}); // it then counts as one that did not end
      rest = once(async () => {
        const library = pyodide.runPython("import sys; next(one for one in sys.path if one.endswith('.zip'))");
        pyodide.FS.writeFile(library, new Uint8Array(await bytes(STDLIB)), { canOwn: true });
        place(pyodide, CALC, await bytes(ARCHIVE));
        await bring(pyodide);
      });
      return true;
    } catch (problem) {
      console.warn("the snapshot of the engine is not used:", problem);
      await snapshot.failed();
    }
  }
  ahead.set(here(STDLIB), usual_fetch(here(STDLIB)));
  const coming = bytes(ARCHIVE);
  const { default: factory, loadPyodide } = await script;
  const pyodide = await loadPyodide({ ...given, createPyodideModule: factory, _makeSnapshot: true });
  place(pyodide, CALC, await coming);
  prove(pyodide);
  rest = once(() => bring(pyodide));
  idle = () => make(pyodide, snapshot);
  return false;
}

/** Does the work when it is first asked for, and again only after it has failed. @param {() => Promise<void>} work @returns {() => Promise<void>} */
function once(work) {
  /** @type {Promise<void> | null} */
  let begun = null;
  return () => (begun ??= work().catch((problem) => {
    begun = null;
    throw problem;
  }));
}

/** Put an archive where Python finds what is in it. @param {any} pyodide @param {string} path @param {ArrayBuffer} archive */
function place(pyodide, path, archive) {
  pyodide.FS.writeFile(path, new Uint8Array(archive), { canOwn: true });
  pyodide.runPython(`import sys\nif "${path}" not in sys.path: sys.path.append("${path}")`);
}

/** Let a Python that is up prove itself by the calculations, and ask it from now on. @param {any} pyodide */
function prove(pyodide) {
  pyodide.runPython("import random; random.seed()");
  pyodide.runPython("from calc.known import prove; prove()");
  python = pyodide.runPython(OPS);
}

/** Bring what only some answers need. @param {any} pyodide */
async function bring(pyodide) {
  place(pyodide, "/lib/packages.zip", await bytes(PACKAGES));
  pyodide.runPython("import calc; calc.catalogue()");
  complete = true;
}

/**
 * Keep the memory of an engine that has answered and is asked nothing.
 * @param {any} pyodide
 * @param {Snapshot} snapshot
 */
async function make(pyodide, snapshot) {
  idle = null;
  try {
    await rest();
    if (!(await snapshot.wanted())) return;
    pyodide.runPython("import gc; gc.collect()");
    const memory = pyodide.makeMemorySnapshot();
    await snapshot.keep(memory);
    self.postMessage({ kept: memory.length });
  } catch (problem) {
    console.warn("no snapshot of the engine:", problem); // the next start is as this one was
  }
}

/** Fails when what should take a second takes many. @template T @param {Promise<T>} promise @returns {Promise<T>} */
function in_time(promise) {
  return Promise.race([
    promise,
    new Promise((_, fail) => setTimeout(() => fail(new Error("the snapshot did not come up")), RESTORE_LIMIT)),
  ]);
}

/**
 * The text of an answer. A question that needed what had not come yet is asked once more when it has.
 * @param {string} op
 * @param {string} args
 * @param {Tell} [tell]
 * @param {Tell} [first]
 */
async function answer(op, args, tell, first) {
  try {
    return python?.(op, args, tell, first);
  } catch (problem) {
    if (complete) throw problem;
    await rest();
    return python?.(op, args, tell, first);
  }
}

/**
 * Let Pyodide find its interpreter compiled: that was begun before the script that asks for it was there. Fails when
 * something goes wrong that nobody waits for: a start that lacks a file, or WebAssembly, does not end.
 * @param {Promise<WebAssembly.Module>} interpreter
 * @returns {Promise<never>}
 */
function broken(interpreter) {
  return new Promise((_, fail) => {
    self.addEventListener("unhandledrejection", (event) => {
      event.preventDefault();
      fail(event.reason);
    });
    // Pyodide tells nobody but the console when its interpreter does not come, or may not be compiled.
    WebAssembly.instantiateStreaming = async (_, imports) => {
      try {
        const module = await interpreter;
        return { module, instance: await WebAssembly.instantiate(module, imports) };
      } catch (problem) {
        fail(problem);
        throw problem;
      }
    };
  });
}

self.onmessage = async ({ data: { interpreter, id, op, args, telling, leading } }) => {
  if (interpreter !== undefined) return given(interpreter);
  clearTimeout(pausing);
  clearTimeout(resting);
  const tell = telling ? (/** @type {string} */ so_far) => self.postMessage({ id, so_far }) : undefined;
  const lead = leading ? (/** @type {string} */ first) => self.postMessage({ id, first }) : undefined;
  try {
    self.postMessage({ id, text: await answer(op, JSON.stringify(args), tell, lead) });
  } catch (problem) {
    self.postMessage({ id, problem: String(/** @type {Error} */ (problem).message ?? problem) });
  }
  pause();
  resting = setTimeout(() => idle?.(), IDLE);
};

/** Bring the rest when nobody asks for a moment. */
function pause() {
  pausing = setTimeout(() => rest().catch(() => {}), PAUSE); // who needs it will hear of it
}

/** The interpreter, compiled. @returns {Promise<WebAssembly.Module>} */
async function compiled() {
  const elsewhere = self.name === "given its interpreter" ? await new Promise((settle) => (given = settle)) : null;
  return elsewhere ?? WebAssembly.compileStreaming(fetch(here(INTERPRETER)));
}

async function begin() {
  try {
    self.postMessage({ ready: true, restored: await Promise.race([start(), broken(compiled())]) });
    pause();
  } catch (problem) {
    self.postMessage({ failed: String(/** @type {Error} */ (problem).message ?? problem) });
  }
}

begin(); // it is not waited for: a message may be sent before it ends
