/** The files of a zip whose members are stored as they are, as the server makes them (APPNOTE.TXT 4.3). */

const LAST = 0x06054b50; // end of central directory, 22 bytes without a comment
const ENTRY = 0x02014b50;

/**
 * Each file with its path; the bytes are a view into the archive, nothing is copied.
 * @param {ArrayBuffer} archive
 * @returns {Generator<[string, Uint8Array]>}
 */
export function* files(archive) {
  const view = new DataView(archive);
  const end = archive.byteLength - 22;
  if (view.getUint32(end, true) !== LAST) throw new Error("this is no zip as the server makes them");
  const text = new TextDecoder();
  let at = view.getUint32(end + 16, true);
  for (let left = view.getUint16(end + 10, true); left > 0; left--) {
    if (view.getUint32(at, true) !== ENTRY || view.getUint16(at + 10, true) !== 0) throw new Error("a member is packed");
    const length = view.getUint32(at + 20, true);
    const [name, extra, comment] = [28, 30, 32].map((place) => view.getUint16(at + place, true));
    const head = view.getUint32(at + 42, true);
    const begin = head + 30 + view.getUint16(head + 26, true) + view.getUint16(head + 28, true);
    yield [text.decode(new Uint8Array(archive, at + 46, name)), new Uint8Array(archive, begin, length)];
    at += 46 + name + extra + comment;
  }
}
