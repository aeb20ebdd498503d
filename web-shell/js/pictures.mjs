// @ts-check
/**
 * A picture from the device made small enough for a card: drawn anew on white, so that nothing of
 * the file but what it shows comes in, no place and no time.
 */

/** Bytes that a card takes: core/exchange/picture_file.h. */
const MOST = 100 * 1024;
/** A card is at most 190 mm wide: 1,000 pixels are 134 an inch there. */
const SIDES = [1000, 800, 600, 400];
const QUALITIES = [0.85, 0.7, 0.5];

/**
 * @param {Uint8Array} bytes a picture file
 * @returns {Promise<Uint8Array>} a PNG or JPEG of at most 100 KB; the bytes as they came if the
 *   browser cannot read them, for the app to say what is wrong
 */
export async function smallPicture(bytes) {
  const type = kindOf(bytes);
  if (!type) return bytes;
  let image;
  try {
    image = await createImageBitmap(new Blob([/** @type {BlobPart} */ (bytes)], { type }));
  } catch {
    return bytes;
  }
  let best = bytes;
  for (const side of SIDES) {
    const canvas = drawn(image, Math.min(1, side / Math.max(image.width, image.height)));
    // Drawings stay sharp as PNG; photographs are far smaller as JPEG.
    best = await encoded(canvas, 'image/png');
    for (const quality of QUALITIES) {
      if (best.length <= MOST) break;
      best = await encoded(canvas, 'image/jpeg', quality);
    }
    if (best.length <= MOST) break;
  }
  image.close();
  return best;
}

/** By the first bytes, never by the name: SVG and HTML are no pictures here.
 *  @param {Uint8Array} bytes */
function kindOf(bytes) {
  const head = String.fromCharCode(...bytes.subarray(0, 12));
  if (head.startsWith('\x89PNG')) return 'image/png';
  if (head.startsWith('\xff\xd8\xff')) return 'image/jpeg';
  return head.startsWith('RIFF') && head.endsWith('WEBP') ? 'image/webp' : '';
}

/** @param {ImageBitmap} image @param {number} scale */
function drawn(image, scale) {
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(image.width * scale));
  canvas.height = Math.max(1, Math.round(image.height * scale));
  const brush = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d'));
  brush.fillStyle = 'white';
  brush.fillRect(0, 0, canvas.width, canvas.height);
  brush.drawImage(image, 0, 0, canvas.width, canvas.height);
  return canvas;
}

/** @param {HTMLCanvasElement} canvas @param {string} type @param {number} [quality] */
async function encoded(canvas, type, quality) {
  const blob = await new Promise((resolve) => { canvas.toBlob(resolve, type, quality); });
  return new Uint8Array(await /** @type {Blob} */ (blob).arrayBuffer());
}
