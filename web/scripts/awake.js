/** Keeps the screen on while an answer is open, where the browser can and the user has not said otherwise. */

import { choice } from "./store.js";

/** @type {WakeLockSentinel | null} */
let lock = null;

/** @param {AbortSignal} left */
export async function stay_awake(left) {
  if (lock || !("wakeLock" in navigator) || choice("awake", "on") !== "on") return;
  try {
    lock = await navigator.wakeLock.request("screen");
  } catch {
    return; // low battery or not allowed: the screen does as the phone says
  }
  lock.addEventListener("release", () => (lock = null));
  left.addEventListener("abort", () => lock?.release());
}
