// @ts-check
/**
 * Printing a self-contained HTML page. Its content becomes the page's own print view, which the
 * screen never shows: iOS prints the top page whatever frame asks. Its styles come in as
 * constructed style sheets, because the Content-Security-Policy lets no inline style through;
 * nothing in it can run.
 */

import { saveFile } from './files.mjs';
import { inertDocument } from './trusted.mjs';

const ACTIVE = 'script, iframe, object, embed, link, meta, base, form';

/** @type {CSSStyleSheet[]} */
let sheets = [];

/** @param {string} title @param {string} html */
export async function printPage(title, html) {
  // An app on an iOS home screen has no print dialog: the page goes out as a shared file.
  const { standalone } = /** @type {any} */ (navigator);
  if (standalone || typeof window.print !== 'function' || !document.adoptedStyleSheets) {
    await saveFile(`${title}.html`, 'text/html', html);
    return;
  }
  clear();
  const place = document.createElement('div');
  place.id = 'print';
  place.append(prepare(html));
  document.body.append(place);
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, ...sheets];
  const name = document.title;
  document.title = title;
  await imagesOf(place);
  addEventListener('afterprint', () => { document.title = name; clear(); }, { once: true });
  window.print();
}

/** What the page holds, ready for this document. @param {string} html */
function prepare(html) {
  // Style attributes are set through the object model below: as text they would be refused.
  const parsed = inertDocument(html.replace(/(<[^>]*\s)style=/g, '$1data-style='));
  for (const element of parsed.querySelectorAll(ACTIVE)) element.remove();
  for (const element of parsed.querySelectorAll('*')) {
    for (const { name } of [...element.attributes]) {
      if (/^(on|href$|xlink:href$|srcdoc$)/i.test(name) && !isOwnPart(element, name)) {
        element.removeAttribute(name);
      }
    }
  }
  sheets = [...parsed.querySelectorAll('style')].map((style) => {
    const sheet = new CSSStyleSheet({ media: 'print' });
    sheet.replaceSync(style.textContent ?? '');
    style.remove();
    return sheet;
  });
  const content = document.createDocumentFragment();
  content.append(...[...parsed.body.childNodes].map((node) => document.importNode(node, true)));
  for (const element of content.querySelectorAll('[data-style]')) {
    const { dataset, style } = /** @type {HTMLElement|SVGElement} */ (element);
    style.cssText = dataset.style ?? '';
    delete dataset.style;
  }
  return content;
}

/** A link to another part of the page itself (shapes in pictures). @param {Element} element
 *  @param {string} name */
function isOwnPart(element, name) {
  return /href$/i.test(name) && (element.getAttribute(name) ?? '').startsWith('#');
}

/** @param {HTMLElement} place */
async function imagesOf(place) {
  await Promise.allSettled([...place.querySelectorAll('img')].map((image) => image.decode()));
}

function clear() {
  document.getElementById('print')?.remove();
  document.adoptedStyleSheets = document.adoptedStyleSheets.filter((s) => !sheets.includes(s));
  sheets = [];
}
