// @ts-check
/** Files out and in. */

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

/**
 * Hands a file to the person.
 * @param {string} name @param {string} mime @param {Uint8Array|string} content
 */
export async function saveFile(name, mime, content) {
  const file = new File([/** @type {BlobPart} */ (content)], plainName(name), { type: mime });
  if (!downloadsWork() && navigator.canShare?.({ files: [file] })) {
    try {
      await navigator.share({ files: [file] });
      return;
    } catch (error) {
      // They looked at where it could go and changed their mind.
      if (error instanceof DOMException && error.name === 'AbortError') return;
    }
  }
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

/**
 * Lets the person choose a file. Never ends if they choose none, where the browser does not say so.
 * @param {string} accept as in <input accept>
 * @returns {Promise<{name: string, bytes: Uint8Array}|null>}
 */
export function pickFile(accept) {
  return new Promise((resolve) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = accept;
    input.hidden = true;
    document.body.append(input);
    input.addEventListener('change', async () => {
      input.remove();
      const file = input.files?.[0];
      resolve(file ? { name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) } : null);
    });
    input.addEventListener('cancel', () => { input.remove(); resolve(null); });
    input.click();
  });
}
