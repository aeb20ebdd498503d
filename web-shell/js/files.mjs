// @ts-check
/** Files out and in. */
import { make, makeButton, openDialog } from './dialog.mjs';
import { START, isInParts } from './sealed-file.mjs';

/** An app on an iOS home screen cannot download; it shares. */
function downloadsWork() {
  return !(/** @type {any} */ (navigator).standalone);
}

/** Control characters, and those that turn the direction of what follows. */
const UNSEEN = /[\u0000-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/g;

/**
 * A name that is one file's on any system: no path, no control characters, nothing hidden.
 * @param {string} name
 */
export function plainName(name) {
  const plain = name.replace(UNSEEN, '').replace(/[/\\:*?"<>|]/g, '-')
    .replace(/^[.\s]+|[.\s]+$/g, '').slice(-120);
  return plain || 'tallyround';
}

/** Parts of a large file that is being made: kept by the browser, not in this page's memory. */
export class FileParts {
  /** @type {Blob[]} */
  #parts = [];

  /** @param {Uint8Array} bytes lent for this call */
  add(bytes) {
    this.#parts.push(new Blob([/** @type {BlobPart} */ (bytes)]));
  }

  /** Everything so far behind a head. @param {Uint8Array} head */
  after(head) {
    return new Blob([/** @type {BlobPart} */ (head), ...this.#parts]);
  }
}

/** @param {File} file @returns {Promise<'done'|'refused'|'failed'>} refused: the touch that it
 *  answers is too long ago for the browser */
async function share(file) {
  try {
    await navigator.share({ files: [file] });
  } catch (error) {
    const name = error instanceof DOMException ? error.name : '';
    // Aborted: they looked at where it could go and changed their mind.
    if (name !== 'AbortError') return name === 'NotAllowedError' ? 'refused' : 'failed';
  }
  return 'done';
}

/** A file that took long to make waits for another touch. @param {File} file
 *  @returns {Promise<boolean>} whether that was the end of it */
function shareLater(file) {
  return new Promise((resolve) => {
    const words = make('p', { textContent: `${file.name} took a while to make. Choose where it ` +
      'goes: “Save to Files” keeps it on this device.' });
    const button = makeButton('Share or save the file');
    button.className = 'primary';
    const dialog = openDialog('The file is ready', [words, button], () => resolve(true));
    button.addEventListener('click', async () => {
      resolve(await share(file) === 'done');
      dialog.close();
    });
  });
}

/**
 * Hands a file to the person.
 * @param {string} name @param {string} mime @param {Uint8Array|string|Blob} content
 */
export async function saveFile(name, mime, content) {
  const file = new File([/** @type {BlobPart} */ (content)], plainName(name), { type: mime });
  if (!downloadsWork() && navigator.canShare?.({ files: [file] })) {
    const outcome = await share(file);
    if (outcome === 'done' || (outcome === 'refused' && await shareLater(file))) return;
  }
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

const MIB = 1 << 20;
/** More than this is not read whole before a look at its two ends. */
const LOOK_FIRST = 8 * MIB;
const ENDS = 4096;

/**
 * Why a large file is not read: it would freeze the page, and cannot be what was asked for.
 * @param {string} purpose as in PickFile @param {File} file @returns {Promise<string>} '' if it is
 */
export async function refusal(purpose, file) {
  const size = `${Math.round(file.size / MIB)} MB`;
  if (purpose !== 'plan' && file.size > 32 * MIB) {
    return `The file has ${size}; a list has at most 32. Choose the list itself.`;
  }
  if (file.size > 512 * MIB) return `The file has ${size}; a plan file has at most 512.`;
  if (file.size <= LOOK_FIRST) return '';
  const ends = await Promise.all([file.slice(0, ENDS).text(), file.slice(-ENDS).text()]);
  if (ends.some((text) => /"tallyround-\w+"/.test(text))) return '';
  return `This is not a plan file: neither its start nor its end (of ${size}) says so. Choose a ` +
    'file that was saved with “Save plan file”.';
}

/** A plan file of more is handed over in pieces of this many bytes. */
const AT_ONCE = 2 * MIB;
const PIECE_BYTES = 256 << 10;
const FIRST_BYTES = 16 << 10;

/** What the app says to a piece: App::Piece of ui/app.h. */
export const PIECE = { more: 0, enough: 1, whole: 2, again: 3 };

/**
 * @typedef {object} Source a file that can be read from its start again and again
 * @property {string} name
 * @property {number} size about so many bytes in all
 * @property {() => AsyncIterable<Uint8Array>} pieces each comes in a task of its own
 */

/** @param {File} file @returns {Source} */
export function sliced(file) {
  return {
    name: file.name,
    size: file.size,
    async *pieces() {
      for (let at = 0; at < file.size;) {
        // Code that runs for the first time takes long: they grow as it gets on.
        const end = at + Math.min(FIRST_BYTES + at, PIECE_BYTES);
        yield await bytesOf(file.slice(at, end));
        at = end;
      }
    },
  };
}

/** @param {Blob} blob */
export const bytesOf = async (blob) => new Uint8Array(await blob.arrayBuffer());

/** All of it. @param {Source} source */
export async function wholeOf(source) {
  const pieces = [];
  for await (const piece of source.pieces()) pieces.push(/** @type {BlobPart} */ (piece));
  return bytesOf(new Blob(pieces));
}

/** Counts the files that were handed over: a later one takes the place of an earlier one. */
let turn = 0;

/**
 * Hands a plan file to the app piece by piece.
 * @param {Source} source
 * @param {Pick<import('./app.mjs').App, 'fileBegins'|'filePiece'|'fileEnds'>} app
 * @param {() => void} looked after every piece
 * @returns {Promise<boolean>} whether the app has to have it whole
 */
export async function handInPieces(source, app, looked) {
  const mine = ++turn;
  let answer = PIECE.again;
  while (answer === PIECE.again) {
    app.fileBegins(source.name, source.size);
    looked();
    answer = PIECE.more;
    for await (const bytes of source.pieces()) {
      if (mine !== turn) return false;
      answer = app.filePiece(bytes);
      looked();
      if (answer !== PIECE.more) break;
    }
    if (answer !== PIECE.whole && answer !== PIECE.again) answer = app.fileEnds();
    looked();
  }
  return answer === PIECE.whole;
}

/**
 * How a chosen file goes to the app: in pieces where it is large and a plan file, `sealed` where it
 * is sealed in boxes.
 * @param {string} purpose as in PickFile @param {File} file
 * @returns {Promise<'whole'|'pieces'|'sealed'>}
 */
async function wayOf(purpose, file) {
  if (purpose !== 'plan') return 'whole';
  const start = await file.slice(0, START).text();
  if (isInParts(start)) return 'sealed';
  const large = file.size > AT_ONCE && /^\s*\{\s*"format"\s*:\s*"tallyround-plan"/.test(start);
  return large ? 'pieces' : 'whole';
}

/**
 * Lets the person choose a file. Never ends if they choose none, where the browser does not say so.
 * @param {string} purpose as in PickFile @param {string} accept as in <input accept>
 * @returns {Promise<{file: File, refused: string, way: 'whole'|'pieces'|'sealed'}|null>}
 */
export function pickFile(purpose, accept) {
  return new Promise((resolve) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = accept;
    input.hidden = true;
    document.body.append(input);
    input.addEventListener('change', async () => {
      input.remove();
      const file = input.files?.[0];
      if (!file) return resolve(null);
      const refused = await refusal(purpose, file);
      resolve({ file, refused, way: refused ? 'whole' : await wayOf(purpose, file) });
    });
    input.addEventListener('cancel', () => { input.remove(); resolve(null); });
    input.click();
  });
}
