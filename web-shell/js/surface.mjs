// @ts-check
/** The window as the app draws on it: size, sharpness, safe edges and what the person prefers. */

const QUERIES = {
  dark: '(prefers-color-scheme: dark)',
  contrast: '(prefers-contrast: more)',
  still: '(prefers-reduced-motion: reduce)',
  touch: '(any-pointer: coarse)',
};

/** Edges that a notch or a home bar covers: top, right, bottom, left, in CSS pixels. */
function safeEdges() {
  const style = getComputedStyle(document.documentElement);
  return ['top', 'right', 'bottom', 'left'].map((side) =>
    Number.parseFloat(style.getPropertyValue(`--safe-${side}`)) || 0);
}

export function currentSurface() {
  const matches = (/** @type {string} */ query) => matchMedia(query).matches;
  return {
    width: Math.max(1, innerWidth),
    height: Math.max(1, innerHeight),
    scale: devicePixelRatio || 1,
    safe: safeEdges(),
    dark: matches(QUERIES.dark),
    contrast: matches(QUERIES.contrast),
    still: matches(QUERIES.still),
    touch: matches(QUERIES.touch),
  };
}

/**
 * Opens the canvas's drawing context, which the app then finds when it asks for one: the picture
 * stays from frame to frame, so that a frame need only draw what changed (web-shell/src/stage.cpp).
 * @param {HTMLCanvasElement} canvas
 */
export function openContext(canvas) {
  canvas.getContext('webgl2', { alpha: false, depth: false, stencil: false, antialias: false,
    preserveDrawingBuffer: true });
}

/**
 * Calls back whenever any of it changes, and when the page is seen again: a browser may have
 * dropped the picture of a page in the background.
 * @param {() => void} changed
 */
export function watchSurface(changed) {
  addEventListener('resize', changed);
  document.addEventListener('visibilitychange', () => { if (!document.hidden) changed(); });
  for (const query of Object.values(QUERIES)) matchMedia(query).addEventListener('change', changed);
  const watchScale = () => {
    matchMedia(`(resolution: ${devicePixelRatio}dppx)`)
      .addEventListener('change', () => { changed(); watchScale(); }, { once: true });
  };
  watchScale();
}
