// @ts-check
/**
 * Strings in the device's own fonts, whole, so that scripts that need shaping or run right to left
 * come out right: drawn white on transparent on a canvas of their own and handed to the app as
 * pixels. Letters have the size and the base line that the bundled font has on a line of `size`
 * points: the picture is `size` high, or higher by as much above as below.
 */

const RIGHT_TO_LEFT =
  /[\u0590-\u08ff\u{10800}-\u{10fff}\u{1e800}-\u{1efff}\ufb1d-\ufdff\ufe70-\ufefc]/u;
const LETTER = /\p{L}/u;
const LARGEST = 4096;  // device pixels a side

/** Whether the first letter is of a script that runs right to left. @param {string} text */
export function runsRightToLeft(text) {
  const first = text.match(LETTER);
  return first !== null && RIGHT_TO_LEFT.test(first[0]);
}

export class Painter {
  #canvas = document.createElement('canvas');
  #context = this.#canvas.getContext('2d', { willReadFrequently: true });
  /** Parts of a line's height: the letters' em, and the base line from the top. */
  #em = 0.8;
  #base = 0.8;

  /** Takes the proportions of the bundled font. @param {string} family a font that has loaded */
  measureLike(family) {
    if (!this.#context) return;
    this.#context.font = `100px ${family}`;
    const { fontBoundingBoxAscent: up, fontBoundingBoxDescent: down } =
      this.#context.measureText('x');
    if (!(up + down > 0)) return;
    this.#em = 100 / (up + down);
    this.#base = up / (up + down);
  }

  /**
   * @param {string} text @param {number} size logical points @param {number} scale pixels a point
   * @param {boolean} bold
   * @returns {{pixels: Uint8ClampedArray, width: number, height: number}|null} null if it cannot
   */
  paint(text, size, scale, bold) {
    const context = this.#context;
    if (!context || !text) return null;
    const pixels = size * scale;
    const prepare = () => {
      context.font = `${bold ? 'bold ' : ''}${pixels * this.#em}px system-ui, sans-serif`;
      context.direction = runsRightToLeft(text) ? 'rtl' : 'ltr';
      context.textAlign = 'left';
      context.textBaseline = 'alphabetic';
      context.fillStyle = '#fff';
    };
    prepare();
    const box = context.measureText(text);
    const base = pixels * this.#base;
    const left = Math.ceil(Math.max(0, box.actualBoundingBoxLeft));
    const right = Math.ceil(Math.max(box.width, box.actualBoundingBoxRight));
    const over = Math.ceil(Math.max(0, box.actualBoundingBoxAscent - base,
      box.actualBoundingBoxDescent - (pixels - base)));
    const width = Math.min(LARGEST, Math.max(1, left + right));
    const height = Math.min(LARGEST, Math.max(1, Math.ceil(pixels) + 2 * over));
    this.#canvas.width = width;
    this.#canvas.height = height;
    prepare();  // a canvas forgets when its size is set
    context.fillText(text, left, over + Math.round(base));
    const image = context.getImageData(0, 0, width, height);
    whiten(image.data);
    return { pixels: image.data, width, height };
  }
}

/** Makes empty pixels white too, or edges would darken when the picture is smoothed. */
function whiten(/** @type {Uint8ClampedArray} */ data) {
  for (let i = 0; i < data.length; i += 4) {
    if (data[i + 3] === 0) data[i] = data[i + 1] = data[i + 2] = 255;
  }
}
