/**
 * One way to ask, whoever answers: the engine on this device when it is up, else the server.
 *
 * Questions are {op, args}: "sheet" {name, typed}, "callout" {text, mine}, "shop" {sort, typed}, "qr" {link},
 * "json" {name, typed}. Every answer is finished text from Python; nothing is computed here. Answers of the two are
 * the same, byte for byte.
 */

const START_LIMIT = 90_000; // ms until a start that says nothing is given up
const SERVER_LIMIT = 10_000; // ms until the server counts as gone
const ANSWER_LIMIT = 20_000; // ms until a question that is not answered ends the worker

/** Where the server answers each question. @type {Record<string, (args: any) => string>} */
const ADDRESS = {
  sheet: ({ name, typed }) => `/part/sheet/${name}?${new URLSearchParams(typed)}`,
  callout: ({ text, mine }) => `/part/callout?${new URLSearchParams({ ...mine, text })}`,
  shop: ({ sort, typed }) => `/part/shop/${sort}?${new URLSearchParams(typed)}`,
  qr: ({ link }) => `/part/qr?${new URLSearchParams({ link })}`,
  json: ({ name, typed }) => `/api/${name}?${new URLSearchParams(typed)}`,
};

/** @type {Worker | null} */
let worker = null;
/** @type {Promise<void> | null} */
let starting = null;
let up = false;
let next = 1;
/** @type {Map<number, {settle: (text: string) => void, fail: (problem: Error) => void, timer: number}>} */
const waiting = new Map();

/** "off", "starting", "ready" or "failed: why"; a CustomEvent "engine" on window tells of every change. */
export let state = "off";

/** @param {string} now */
function become(now) {
  state = now;
  window.dispatchEvent(new CustomEvent("engine", { detail: now }));
}

/** Start the engine on this device; settles when it can answer. Safe to call again. */
export function start() {
  starting ??= new Promise((settle, fail) => {
    become("starting");
    const began = new Worker(new URL("worker.js", import.meta.url), { type: "module" });
    const limit = setTimeout(() => give_up(new Error("the engine did not start in time")), START_LIMIT);
    /** @param {Error} problem */
    const give_up = (problem) => {
      clearTimeout(limit);
      end(problem);
      become(`failed: ${problem.message}`);
      fail(problem);
    };
    worker = began;
    began.onerror = (event) => give_up(new Error(event.message || "the engine could not be loaded"));
    began.onmessage = ({ data }) => {
      if (data.ready) {
        clearTimeout(limit);
        up = true;
        become("ready");
        settle();
      } else if (data.failed) {
        give_up(new Error(data.failed));
      } else {
        answered(data);
      }
    };
    began.postMessage({ start: { archive: new URL(document.body.dataset.archive ?? "", location.href).href } });
  });
  starting.catch(() => {});
  return starting;
}

/** @param {{id: number, text?: string, problem?: string}} data */
function answered({ id, text, problem }) {
  const one = waiting.get(id);
  if (!one) return;
  waiting.delete(id);
  clearTimeout(one.timer);
  if (problem === undefined) one.settle(text ?? "");
  else one.fail(new Error(problem));
}

/** End the worker; what it was asked is refused with the reason. @param {Error} reason */
function end(reason) {
  worker?.terminate();
  worker = null;
  starting = null;
  up = false;
  for (const one of waiting.values()) {
    clearTimeout(one.timer);
    one.fail(reason);
  }
  waiting.clear();
}

/**
 * @param {string} op
 * @param {object} args
 * @returns {Promise<string>}
 */
function ask_worker(op, args) {
  return new Promise((settle, fail) => {
    const id = next++;
    const timer = window.setTimeout(() => {
      end(new Error("the engine did not answer and was started again"));
      start();
    }, ANSWER_LIMIT);
    waiting.set(id, { settle, fail, timer });
    worker?.postMessage({ id, op, args });
  });
}

/**
 * @param {string} op
 * @param {object} args
 * @returns {Promise<string>}
 */
async function ask_server(op, args) {
  const patience = new AbortController();
  const timer = setTimeout(() => patience.abort(new Error("the server did not reply")), SERVER_LIMIT);
  const reply = await fetch(ADDRESS[op](args), { headers: { "X-Part": "1" }, signal: patience.signal });
  const text = await reply.text();
  clearTimeout(timer);
  if (reply.ok || (op === "json" && reply.status === 422)) return text;
  throw new Refusal(`The server answered ${reply.status}.`);
}

/** The server was there and said no: asking the engine the same would not help. */
class Refusal extends Error {}

/**
 * The answer to a question as finished text.
 * @param {string} op
 * @param {object} args
 * @returns {Promise<string>}
 */
export async function ask(op, args) {
  if (up) return ask_worker(op, args);
  if (navigator.serviceWorker?.controller) start();
  if (starting && !navigator.onLine) return started(op, args);
  try {
    return await ask_server(op, args);
  } catch (problem) {
    if (problem instanceof Refusal) throw problem;
    return started(op, args);
  }
}

/**
 * @param {string} op
 * @param {object} args
 */
async function started(op, args) {
  await start();
  return ask_worker(op, args);
}
