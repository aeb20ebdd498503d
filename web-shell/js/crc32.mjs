// @ts-check
/** A checksum over bytes. */

const CRC_TABLE = new Uint32Array(256).map((_, n) => {
  let c = n;
  for (let bit = 0; bit < 8; bit++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});

/**
 * CRC-32 as in ISO 3309 and PNG: the nine digits "123456789" give 0xCBF43926.
 * @param {Uint8Array} bytes
 * @param {number} [before] the checksum of the bytes before these
 */
export function crc32(bytes, before = 0) {
  let c = ~before;
  for (let i = 0; i < bytes.length; i++) c = CRC_TABLE[(c ^ bytes[i]) & 255] ^ (c >>> 8);
  return ~c >>> 0;
}
