/**
 * SHA-256 (FIPS 180-4). The browser's own is there only on https and on localhost, and a copy of what is mine has to
 * be made and proved on a plain address of the workshop's network as well.
 */

/** The first 32 bits of the fractional parts of a root of the first primes. @param {number} count @param {(n: number) => number} root */
function constants(count, root) {
  const found = [];
  for (let n = 2; found.length < count; n++) {
    let prime = true;
    for (let by = 2; by * by <= n; by++) if (n % by === 0) prime = false;
    if (prime) found.push((root(n) % 1) * 2 ** 32 | 0);
  }
  return found;
}

const START = constants(8, Math.sqrt);
const ROUND = constants(64, Math.cbrt);

/** @param {number} word @param {number} by */
const turn = (word, by) => (word >>> by) | (word << (32 - by));

/** The SHA-256 of a text in UTF-8, in hex. @param {string} text */
export function sha256(text) {
  const bytes = new TextEncoder().encode(text);
  const padded = new Uint8Array(((bytes.length + 72) >> 6) << 6);
  padded.set(bytes);
  padded[bytes.length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(padded.length - 8, Math.floor(bytes.length / 2 ** 29));
  view.setUint32(padded.length - 4, bytes.length << 3);

  const state = Int32Array.from(START);
  const words = new Int32Array(64);
  for (let at = 0; at < padded.length; at += 64) {
    for (let i = 0; i < 16; i++) words[i] = view.getInt32(at + 4 * i);
    for (let i = 16; i < 64; i++) {
      const early = turn(words[i - 15], 7) ^ turn(words[i - 15], 18) ^ (words[i - 15] >>> 3);
      const late = turn(words[i - 2], 17) ^ turn(words[i - 2], 19) ^ (words[i - 2] >>> 10);
      words[i] = words[i - 16] + early + words[i - 7] + late;
    }
    let [a, b, c, d, e, f, g, h] = state;
    for (let i = 0; i < 64; i++) {
      const first = h + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + ((e & f) ^ (~e & g)) + ROUND[i] + words[i];
      const second = (turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
      [a, b, c, d, e, f, g, h] = [(first + second) | 0, a, b, c, (d + first) | 0, e, f, g];
    }
    for (const [place, word] of [a, b, c, d, e, f, g, h].entries()) state[place] += word;
  }
  return [...state].map((word) => (word >>> 0).toString(16).padStart(8, "0")).join("");
}
