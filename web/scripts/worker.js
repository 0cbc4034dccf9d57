/**
 * The engine: CPython (Pyodide) with calc/, in a worker of its own so that the page never waits for it.
 *
 * Messages in: {start: {archive}}, then {id, op, args, telling}. Out: {ready}, {failed}, or {id, text} / {id, problem},
 * and where `telling` is asked for, before it any number of {id, so_far}: the best answer yet, "" as a sign of life.
 */

/** What may be asked, as Python that leaves its text in the last line. */
const OPS = `
import json
from calc import answer_json
from calc.owned import shop_json
from calc.qr import qr
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
        return qr(given["link"])
    if op == "json":
        return answer_json(given["name"], given["typed"])
    raise ValueError(f"no such question: {op}")

sheet("fit", {})
ask
`;

/** @type {((op: string, args: string, tell?: (text: string) => void) => string) | null} */
let python = null;

/** @param {string} address */
async function bytes(address) {
  const reply = await fetch(address);
  if (!reply.ok) throw new Error(`${address} answered ${reply.status}`);
  return reply.arrayBuffer();
}

/** @param {string} archive */
async function start(archive) {
  const manifest = JSON.parse(new TextDecoder().decode(await bytes("/vendor/manifest.json")));
  /** @type {string[]} */
  const paths = manifest.map((/** @type {{path: string}} */ one) => one.path);
  const loader = paths.find((path) => path.endsWith("/pyodide.mjs"));
  const wheels = paths.filter((path) => path.endsWith(".whl"));
  const home = new URL(`/vendor/${loader?.replace("pyodide.mjs", "")}`, self.location.href).href;
  const [{ loadPyodide }, calc, ...packages] = await Promise.all([
    import(`${home}pyodide.mjs`),
    bytes(archive),
    ...wheels.map((path) => bytes(`/vendor/${path}`)),
  ]);
  const pyodide = await loadPyodide({ indexURL: home });
  for (const one of packages) pyodide.unpackArchive(one, "wheel");
  const site = pyodide.runPython("import site; site.getsitepackages()[0]");
  pyodide.unpackArchive(calc, "zip", { extractDir: site });
  pyodide.runPython("import importlib; importlib.invalidate_caches()");
  python = pyodide.runPython(OPS);
}

self.onmessage = async ({ data }) => {
  if (data.start) {
    try {
      await start(data.start.archive);
      self.postMessage({ ready: true });
    } catch (problem) {
      self.postMessage({ failed: String(/** @type {Error} */ (problem).message ?? problem) });
    }
    return;
  }
  const { id, op, args, telling } = data;
  const tell = telling ? (/** @type {string} */ so_far) => self.postMessage({ id, so_far }) : undefined;
  try {
    self.postMessage({ id, text: python?.(op, JSON.stringify(args), tell) });
  } catch (problem) {
    self.postMessage({ id, problem: String(/** @type {Error} */ (problem).message ?? problem) });
  }
};
