/**
 * The engine: CPython (Pyodide) with calc/, in a worker of its own so that the page never waits for it.
 *
 * Messages in: {start: {archive}}, then {id, op, args, telling}. Out: {ready}, {failed}, or {id, text} / {id, problem},
 * and where `telling` is asked for, before it any number of {id, so_far}: the best answer yet, "" as a sign of life.
 */

import { HOME, LOCK, PACKAGES, STDLIB, loadPyodide } from "./engine_files.js";
import { files } from "./unzip.js";

/** What may be asked, as Python that leaves its text in the last line. */
const OPS = `
import json
from calc import answer_json
from calc.owned import shop_json
from calc.sheet import callout_sheet, sheet

def ask(op, args, tell):
    given = json.loads(args)
    if op == "sheet":
        return sheet(given["name"], given["typed"], given.get("twice", ()), tell)
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

/** @type {((op: string, args: string, tell?: (text: string) => void) => string) | null} */
let python = null;

/** Packages that only some answers need, on their way; null when they are there. @type {Promise<void> | null} */
let others = null;

/** @param {string} address */
async function bytes(address) {
  const reply = await fetch(address);
  if (!reply.ok) throw new Error(`${address} answered ${reply.status}`);
  return reply.arrayBuffer();
}

/** @param {string} archive */
async function start(archive) {
  const coming = bytes(archive);
  const home = new URL(HOME, self.location.href).href;
  const pyodide = await loadPyodide({
    indexURL: home,
    packageBaseUrl: home,
    stdLibURL: new URL(STDLIB, self.location.href).href,
    lockFileContents: LOCK,
  });
  const site = pyodide.runPython("import site; site.getsitepackages()[0]");
  for (const [path, content] of files(await coming)) {
    pyodide.FS.mkdirTree(`${site}/${path.slice(0, path.lastIndexOf("/"))}`);
    pyodide.FS.writeFile(`${site}/${path}`, content, { canOwn: true });
  }
  pyodide.runPython("import importlib; importlib.invalidate_caches()");
  python = pyodide.runPython(OPS);
  others = bring(pyodide).then(() => void (others = null));
  others.catch(() => {}); // who needs them will hear of it
}

/** Bring what only some answers need, once the first can be given. @param {any} pyodide */
async function bring(pyodide) {
  pyodide.FS.writeFile("/lib/packages.zip", new Uint8Array(await bytes(PACKAGES)), { canOwn: true });
  pyodide.runPython("import sys; sys.path.append('/lib/packages.zip'); import calc; calc.catalogue()");
}

/**
 * The text of an answer. A question that needed what had not come yet is asked once more when it has.
 * @param {string} op
 * @param {string} args
 * @param {((text: string) => void) | undefined} tell
 */
async function answer(op, args, tell) {
  try {
    return python?.(op, args, tell);
  } catch (problem) {
    if (!others) throw problem;
    await others;
    return python?.(op, args, tell);
  }
}

/** Fails when something goes wrong that nobody waits for: a start that lacks a file, or WebAssembly, does not end. @returns {Promise<never>} */
function broken() {
  return new Promise((_, fail) => {
    self.addEventListener("unhandledrejection", (event) => {
      event.preventDefault();
      fail(event.reason);
    });
  });
}

self.onmessage = async ({ data }) => {
  if (data.start) {
    try {
      await Promise.race([start(data.start.archive), broken()]);
      self.postMessage({ ready: true });
    } catch (problem) {
      self.postMessage({ failed: String(/** @type {Error} */ (problem).message ?? problem) });
    }
    return;
  }
  const { id, op, args, telling } = data;
  const tell = telling ? (/** @type {string} */ so_far) => self.postMessage({ id, so_far }) : undefined;
  try {
    self.postMessage({ id, text: await answer(op, JSON.stringify(args), tell) });
  } catch (problem) {
    self.postMessage({ id, problem: String(/** @type {Error} */ (problem).message ?? problem) });
  }
};
