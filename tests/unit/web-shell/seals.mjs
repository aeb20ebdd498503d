// Seals by Node's own crypto (OpenSSL), to hold the vault's against.
import { createCipheriv, createDecipheriv, randomBytes } from 'node:crypto';

export const hex = (text) => new Uint8Array(Buffer.from(text.replace(/\s/g, ''), 'hex'));
export const bytes = (text) => new TextEncoder().encode(text);
export const text = (data) => new TextDecoder().decode(data);

/** Opens a seal with Node's crypto alone. */
export function openWithNode(key, place, sealed) {
  const box = Buffer.from(sealed);
  const decipher = createDecipheriv('aes-256-gcm', key, box.subarray(1, 13));
  decipher.setAAD(Buffer.from(`tallyround 1 ${place}`));
  decipher.setAuthTag(box.subarray(box.length - 16));
  return Buffer.concat([decipher.update(box.subarray(13, box.length - 16)), decipher.final()]);
}

/** Seals with Node's crypto alone. */
export function sealWithNode(key, place, data) {
  const nonce = randomBytes(12);
  const cipher = createCipheriv('aes-256-gcm', key, nonce);
  cipher.setAAD(Buffer.from(`tallyround 1 ${place}`));
  const box = Buffer.concat([cipher.update(data), cipher.final()]);
  return Buffer.concat([Buffer.from([1]), nonce, box, cipher.getAuthTag()]);
}
