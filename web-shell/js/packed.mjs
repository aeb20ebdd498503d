// @ts-check
/** A file made small for its way over codes: a byte that says how, and the rest. */

const PLAIN = 0;
const DEFLATED = 1;
/** A file that unpacks to more is refused. */
const MOST_UNPACKED = 64 << 20;

/** @param {Uint8Array} bytes @param {GenericTransformStream} through @param {number} most */
async function stream(bytes, through, most) {
  const reader = new Blob([/** @type {BlobPart} */ (bytes)]).stream().pipeThrough(through)
    .getReader();
  const parts = [];
  let length = 0;
  for (let { done, value } = await reader.read(); !done; { done, value } = await reader.read()) {
    length += value.length;
    if (length > most) throw new RangeError('The file in the codes is too large.');
    parts.push(value);
  }
  return new Uint8Array(await new Blob(parts).arrayBuffer());
}

/** @param {Uint8Array} file */
export async function pack(file) {
  const deflates = 'CompressionStream' in globalThis;
  const body = deflates
    ? await stream(file, new CompressionStream('deflate-raw'), Infinity) : file;
  const all = new Uint8Array(body.length + 1);
  all[0] = deflates ? DEFLATED : PLAIN;
  all.set(body, 1);
  return all;
}

/** @param {Uint8Array} packed */
export async function unpack(packed) {
  const body = packed.subarray(1);
  if (packed[0] === PLAIN) return body;
  if (packed[0] !== DEFLATED) throw new RangeError('These codes are from a newer version.');
  return stream(body, new DecompressionStream('deflate-raw'), MOST_UNPACKED);
}

/** Whether `pack` made it: no plan file begins so. @param {Uint8Array} bytes */
export function isPacked(bytes) {
  return bytes[0] === PLAIN || bytes[0] === DEFLATED;
}
