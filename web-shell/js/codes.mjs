// @ts-check
/**
 * A file from one device to another without network or cable: this one shows it as a sequence of QR
 * codes (ISO/IEC 18004), the other reads them with its camera. See pieces.mjs for why a missed code
 * does not matter. Loaded when first asked for.
 */

// @ts-ignore: the build makes both from the packages in ../packages
import qrcode from '../vendor/qr-write.mjs';
// @ts-ignore
import readers from '../vendor/qr-read.mjs';

import { make, makeButton, openDialog } from './dialog.mjs';
import { pack, unpack } from './packed.mjs';
import { LONGEST, PieceMaker, PieceTaker } from './pieces.mjs';

/** Version 14 with correction L holds 458 bytes: 73 modules a side, read from an arm's length. */
const VERSION = 14;
const ROOM = 440;
const A_SECOND = 8;
/** Below the three a second of WCAG 2.2, 2.3.1, for those who asked for less motion. */
const A_SECOND_STILL = 2;
/** Light modules around a code, by the standard. */
const QUIET = 4;
/** Pixels a side that the reader looks at: seven a module where the code fills the picture. */
const SEEN = 600;

/** Dark modules of a piece's code, row by row. @param {Uint8Array} piece */
export function codeOf(piece) {
  const code = qrcode(VERSION, 'L');
  code.addData(String.fromCharCode(...piece), 'Byte');
  code.make();
  const side = code.getModuleCount();
  return Array.from({ length: side }, (_, row) =>
    Array.from({ length: side }, (_, column) => Boolean(code.isDark(row, column))));
}

/**
 * The bytes of a code in a picture, or null.
 * @param {Uint8ClampedArray} pixels RGBA @param {number} width @param {number} height
 * @returns {Uint8Array|null}
 */
export function readCode(pixels, width, height) {
  const read = readers.default ?? readers;
  const found = read(pixels, width, height, { inversionAttempts: 'dontInvert' });
  return found ? Uint8Array.from(found.binaryData) : null;
}

/** @param {HTMLCanvasElement} canvas @param {boolean[][]} code */
function draw(canvas, code) {
  const side = code.length + 2 * QUIET;
  const module = Math.max(1, Math.floor(canvas.clientWidth * devicePixelRatio / side));
  canvas.width = module * side;
  canvas.height = module * side;
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d'));
  pen.fillStyle = '#fff';
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.fillStyle = '#000';
  code.forEach((line, row) => line.forEach((dark, column) => {
    if (dark) pen.fillRect((column + QUIET) * module, (row + QUIET) * module, module, module);
  }));
}

/** Asks whether the codes are to be sealed. @returns {Promise<boolean|null>} null: neither */
function askSeal() {
  return new Promise((resolve) => {
    const words = make('p', { textContent: 'Files are sealed with the passcode of this device. ' +
      'Sealed codes ask for it on the other device, too, and take longer to show. Open codes ' +
      'give names and marks to whoever films them.' });
    const [sealed, plain] = ['Sealed codes', 'Open codes'].map(makeButton);
    const dialog = openDialog('Sealed or open?', [words, sealed, plain], () => resolve(null));
    const answer = (/** @type {boolean} */ seal) => () => { resolve(seal); dialog.close(); };
    sealed.addEventListener('click', answer(true));
    plain.addEventListener('click', answer(false));
  });
}

/**
 * Shows a file as codes until the dialog is closed.
 * @param {Uint8Array} file
 * @param {((file: Uint8Array) => Promise<Uint8Array>)|null} [seal] where there is a passcode
 */
export async function showCodes(file, seal = null) {
  const seals = seal ? await askSeal() : false;
  if (seals === null) return;
  // What is sealed no longer packs: it is packed before.
  const packed = await pack(seals && seal ? await seal(await pack(file)) : file);
  if (packed.length > LONGEST) {
    openDialog('Too much for codes', [make('p', { textContent:
      'This record is too large to be shown as codes. Save a plan file and carry that.' })],
    () => {});
    return;
  }
  const maker = new PieceMaker(packed, ROOM);
  const rate = matchMedia('(prefers-reduced-motion: reduce)').matches ? A_SECOND_STILL : A_SECOND;
  const canvas = /** @type {HTMLCanvasElement} */ (make('canvas'));
  canvas.setAttribute('role', 'img');
  canvas.setAttribute('aria-label', 'A QR code that changes all the time');
  const seconds = Math.ceil(maker.count / rate);
  const words = make('p', { textContent: 'On the other device: Settings, Read codes. Hold its ' +
    `camera so that it sees the whole square. ${maker.count} codes, ${seconds} ` +
    `${seconds === 1 ? 'second' : 'seconds'} at best; missed ones come again.` });
  const caution = make('p', { className: 'soft', textContent: 'The square flickers: turn it away ' +
    'from anyone sensitive to flicker. ' + (seals
    ? 'The other device asks for the passcode of this one.'
    : 'Whoever films it has the plan, with names and marks.') });
  let timer = 0;
  let number = 0;
  openDialog('Plan as codes', [words, canvas, caution], () => clearInterval(timer));
  const next = () => draw(canvas, codeOf(maker.piece(number++)));
  next();
  timer = window.setInterval(next, 1000 / rate);
}

/** @param {unknown} error */
function cameraTrouble(error) {
  const name = error instanceof DOMException ? error.name : '';
  if (name === 'NotAllowedError') {
    return 'The camera may not be used. Allow it for this page in the browser\'s settings, or ' +
      'carry a plan file over.';
  }
  return 'No camera can be used here. Carry a plan file over instead.';
}

/**
 * Reads codes with the camera until a file is whole or the dialog is closed.
 * @returns {Promise<Uint8Array|null>} null: closed, or no camera
 */
export async function readCodes() {
  const video = /** @type {HTMLVideoElement} */ (make('video', { muted: true, playsInline: true }));
  video.setAttribute('aria-hidden', 'true');
  const bar = /** @type {HTMLProgressElement} */ (make('progress', { max: 1, value: 0 }));
  bar.setAttribute('aria-label', 'Codes read');
  const words = make('p', { textContent: 'On the other device: Settings, Show as codes. Hold ' +
    'this one so that the whole square is in the picture.' });
  words.setAttribute('role', 'status');
  const ended = { value: false };
  let finish = (/** @type {Uint8Array|null} */ _file) => {};
  const answer = new Promise((resolve) => { finish = resolve; });
  const dialog = openDialog('Read codes', [words, video, bar], () => {
    ended.value = true;
    finish(null);
  });
  let camera;
  try {
    camera = await navigator.mediaDevices.getUserMedia(
      { video: { facingMode: 'environment', width: { ideal: 1280 }, height: { ideal: 720 } } });
  } catch (error) {
    words.textContent = cameraTrouble(error);
    return answer;
  }
  try {
    video.srcObject = camera;
    await video.play();
    const packed = await watch(video, ended, (have, count) => {
      bar.value = have / count;
      words.textContent = `${have} of ${count} codes read.`;
    });
    if (packed) finish(await unpack(packed));
  } catch (error) {
    words.textContent = error instanceof Error ? error.message : 'The codes cannot be read.';
    return await answer;
  } finally {
    for (const track of camera.getTracks()) track.stop();
  }
  if (dialog.open) dialog.close();
  return answer;
}

/**
 * @param {HTMLVideoElement} video @param {{value: boolean}} ended
 * @param {(have: number, count: number) => void} progress
 */
async function watch(video, ended, progress) {
  const taker = new PieceTaker();
  const canvas = document.createElement('canvas');
  [canvas.width, canvas.height] = [SEEN, SEEN];
  const pen = /** @type {CanvasRenderingContext2D} */ (
    canvas.getContext('2d', { willReadFrequently: true }));
  while (!ended.value) {
    await new Promise((done) => { setTimeout(done, 20); });
    if (!video.videoWidth) continue;
    // The square in the middle, no finer than a code needs: looking takes as long as it is large.
    const side = Math.min(video.videoWidth, video.videoHeight);
    const [left, top] = [(video.videoWidth - side) / 2, (video.videoHeight - side) / 2];
    pen.drawImage(video, left, top, side, side, 0, 0, SEEN, SEEN);
    const piece = readCode(pen.getImageData(0, 0, SEEN, SEEN).data, SEEN, SEEN);
    if (!piece) continue;
    const got = taker.take(piece);
    if (got === 'new' || got === 'done') progress(taker.have, taker.count);
    if (got === 'done') return taker.file();
  }
  return null;
}
