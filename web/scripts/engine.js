/**
 * One way to ask, whoever answers: the engine on this device when it is up, else the server.
 *
 * Questions are {op, args}: "sheet" {name, typed, twice}, "callout" {text, mine}, "shop" {sort, typed}, "qr" {link},
 * "json" {name, typed}. Every answer is finished text from Python; nothing is computed here. Answers of the two are
 * the same, byte for byte.
 *
 * The engine works on one question at a time and cannot be spoken to meanwhile. One that it does not come back from,
 * that somebody stops or that nobody wants any more is ended with it: the engine is started anew, the others are asked
 * again, and what it could not answer goes to the server.
 */

const START_LIMIT = 90_000; // ms until a start that says nothing is given up
const SERVER_LIMIT = 10_000; // ms until the server counts as gone
const ANSWER_LIMIT = 20_000; // ms without an answer or a sign of life until the engine is ended
const UNWANTED = 5_000; // ms that an answer nobody wants any more is waited for: about what a new start takes
const ASLEEP = 2_000; // ms by which a clock is late when page and engine were both asleep meanwhile

/** Where the server answers each question. @type {Record<string, (args: any) => string>} */
const ADDRESS = {
  sheet: ({ name, typed, twice = [] }) =>
    `/part/sheet/${name}?${new URLSearchParams([...Object.entries(typed), ...twice.map((/** @type {string} */ one) => [one, ""])])}`,
  callout: ({ text, mine }) => `/part/callout?${new URLSearchParams({ ...mine, text })}`,
  shop: ({ sort, typed }) => `/part/shop/${sort}?${new URLSearchParams(typed)}`,
  qr: ({ link }) => `/part/qr?${new URLSearchParams({ link })}`,
  json: ({ name, typed }) => `/api/${name}?${new URLSearchParams(typed)}`,
};

/** Somebody stopped it, or does not want it any more. */
export class Stopped extends Error {}

/** The engine was ended over this question. */
class Lost extends Error {}

/** The engine was ended over another question: this one can be asked again. */
class Interrupted extends Error {}

/** The server was there and said no: asking the engine the same would not help. */
class Refusal extends Error {}

/**
 * `first` gets the answer without its detail when that comes before the rest, `so_far` the best answer yet while it
 * takes long. `signal` aborted with Stopped ends it at once; aborted with anything else it is not wanted any more, and
 * is ended when it takes long.
 * @typedef {{first?: (text: string) => void, so_far?: (text: string) => void, signal?: AbortSignal}} How
 * @typedef {{op: string, args: object, how: How, since: number, settle: (text: string) => void, fail: (problem: Error) => void}} Question
 */

/** @type {Worker | null} */
let worker = null;
/** @type {Promise<void> | null} */
let starting = null;
let up = false;
let number = 0;
let watch = 0;
/** What the engine is at, and what comes after it. @type {Question | null} */
let current = null;
/** @type {Question[]} */
let line = [];

/** "off", "starting", "ready" or "failed: why"; a CustomEvent "engine" on window tells of every change. */
export let state = "off";

/** @param {string} now */
function become(now) {
  state = now;
  window.dispatchEvent(new CustomEvent("engine", { detail: now }));
}

/** Start the engine on this device; settles when it can answer. Safe to call again. */
export function start() {
  if (starting) return starting;
  const mine = new Promise((/** @type {(up?: undefined) => void} */ settle, fail) => {
    become("starting");
    const limit = setTimeout(() => give_up(new Error("the engine did not start in time")), START_LIMIT);
    /** @param {Error} problem */
    const give_up = (problem) => {
      clearTimeout(limit);
      if (up) return restart(new Lost(`the engine broke off (${problem.message}) and was started again`));
      end(new Interrupted());
      become(`failed: ${problem.message}`);
      fail(problem);
    };
    const early = /** @type {{begun?: {worker: Worker, heard: Event[]}}} */ (window).begun;
    delete (/** @type {any} */ (window).begun);
    /** @type {Worker} */
    let began;
    try {
      began = early?.worker ?? new Worker(new URL("worker.js", import.meta.url), { type: "module" });
    } catch (problem) {
      return give_up(/** @type {Error} */ (problem)); // this browser has no workers, or refuses this one
    }
    worker = began;
    began.onerror = (event) => give_up(new Error(event.message || "the engine could not be loaded"));
    began.onmessage = ({ data }) => {
      if (data.ready) {
        clearTimeout(limit);
        up = true;
        become("ready");
        settle();
        go_on();
      } else if (data.failed) {
        give_up(new Error(data.failed));
      } else {
        answered(data);
      }
    };
    for (const event of early?.heard ?? []) event.type === "error" ? began.onerror?.(/** @type {ErrorEvent} */ (event)) : began.onmessage?.(/** @type {MessageEvent} */ (event));
  });
  starting = mine;
  mine.catch(() => starting === mine && (starting = null)); // it may have failed at once: the next is a new one
  return mine;
}

/** Give the engine the next question in line. */
function go_on() {
  if (!up || current || !line.length) return;
  current = /** @type {Question} */ (line.shift());
  current.since = performance.now();
  watch_over();
  const { op, args, how } = current;
  worker?.postMessage({ id: ++number, op, args, telling: how.so_far !== undefined, leading: how.first !== undefined });
}

/** @param {{id: number, text?: string, problem?: string, so_far?: string, first?: string}} data */
function answered({ id, text, problem, so_far, first }) {
  const one = current;
  if (id !== number || !one) return;
  if (first !== undefined) return one.how.first?.(first);
  if (so_far !== undefined) {
    watch_over();
    if (so_far) one.how.so_far?.(so_far);
    return;
  }
  if (problem !== undefined && !problem.startsWith("Traceback")) {
    restart(new Lost(`the engine broke (${problem}) and was started again`)); // no error of Python's: it may be past use
    return;
  }
  clearTimeout(watch);
  current = null;
  if (problem === undefined) one.settle(text ?? "");
  else one.fail(new Error(problem));
  go_on();
}

/** End the engine unless it gives a sign of life in time. */
function watch_over() {
  clearTimeout(watch);
  const due = performance.now() + ANSWER_LIMIT;
  watch = window.setTimeout(() => {
    if (performance.now() > due + ASLEEP) watch_over();
    else restart(new Lost(`it took more than ${ANSWER_LIMIT / 1000} seconds, and the engine was started again. Change what is typed, or try again`));
  }, ANSWER_LIMIT);
}

/** End the worker. What it was at fails with `reason`, what waited is interrupted. @param {Error} reason */
function end(reason) {
  clearTimeout(watch);
  worker?.terminate();
  worker = null;
  starting = null;
  up = false;
  const [lost, interrupted] = [current, line];
  current = null;
  line = [];
  lost?.fail(reason);
  for (const one of interrupted) one.fail(new Interrupted());
}

/** @param {Error} reason */
function restart(reason) {
  end(reason);
  start();
}

/** Give up a question, for a reason. @param {Question} one @param {Error} reason */
function drop(one, reason) {
  if (one === current) return restart(reason);
  line = line.filter((other) => other !== one);
  one.fail(reason);
}

/**
 * @param {string} op
 * @param {object} args
 * @param {How} how
 * @returns {Promise<string>}
 */
function ask_worker(op, args, how) {
  return new Promise((settle, fail) => {
    const one = { op, args, how, since: 0, settle, fail };
    how.signal?.addEventListener("abort", () => {
      if (one !== current || stopped(how.signal)) return drop(one, new Stopped("stopped"));
      const still = Math.max(0, UNWANTED - (performance.now() - one.since));
      setTimeout(() => one === current && drop(one, new Stopped("not wanted any more")), still);
    });
    line.push(one);
    go_on();
  });
}

/** @param {AbortSignal | undefined} signal */
const stopped = (signal) => signal?.reason instanceof Stopped;

/**
 * @param {string} op
 * @param {object} args
 * @param {AbortSignal} [signal]
 * @returns {Promise<string>}
 */
async function ask_server(op, args, signal) {
  const patience = new AbortController();
  const timer = setTimeout(() => patience.abort(new Error("the server did not reply")), SERVER_LIMIT);
  signal?.addEventListener("abort", () => stopped(signal) && patience.abort(signal.reason));
  try {
    const reply = await fetch(ADDRESS[op](args), { headers: { "X-Part": "1" }, signal: patience.signal });
    const text = await reply.text();
    if (reply.ok || (op === "json" && reply.status === 422)) return text;
    throw new Refusal(`The server answered ${reply.status}.`);
  } finally {
    clearTimeout(timer);
  }
}

/**
 * The answer to a question as finished text.
 * @param {string} op
 * @param {object} args
 * @param {How} how
 * @returns {Promise<string>}
 */
export async function ask(op, args, how = {}) {
  for (;;) {
    if (stopped(how.signal)) throw how.signal?.reason;
    try {
      if (up) return await ask_worker(op, args, how);
      if (navigator.serviceWorker?.controller) start();
      if (!starting || navigator.onLine) {
        const text = await instead(op, args, how);
        if (text !== null) return text;
      }
      await Promise.race([start(), stop_of(how.signal)]);
    } catch (problem) {
      if (problem instanceof Interrupted) continue;
      const text = problem instanceof Lost && navigator.onLine ? await instead(op, args, how) : null;
      if (text === null) throw problem;
      return text;
    }
  }
}

/**
 * The server's answer; null when it is not to be had.
 * @param {string} op
 * @param {object} args
 * @param {How} how
 */
async function instead(op, args, how) {
  try {
    return await ask_server(op, args, how.signal);
  } catch (problem) {
    if (problem instanceof Refusal || stopped(how.signal)) throw problem;
    return null;
  }
}

/** Never settles unless it is stopped. @param {AbortSignal | undefined} signal @returns {Promise<never>} */
function stop_of(signal) {
  return new Promise((_, fail) => signal?.addEventListener("abort", () => stopped(signal) && fail(signal.reason)));
}
