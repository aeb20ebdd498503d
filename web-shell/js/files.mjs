// @ts-check
/** Files out and in. */

/** An app on an iOS home screen cannot download; it shares. */
function downloadsWork() {
  return !(/** @type {any} */ (navigator).standalone);
}

/**
 * Hands a file to the person.
 * @param {string} name @param {string} mime @param {Uint8Array|string} content
 */
export async function saveFile(name, mime, content) {
  const file = new File([/** @type {BlobPart} */ (content)], name, { type: mime });
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
  link.download = name;
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
