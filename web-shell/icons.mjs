/**
 * The app's mark, drawn from one description as SVG and as PNG: four leaning tiles about a dot,
 * three in ink and one in the accent, each turned against the next.
 */
import { deflateSync } from 'node:zlib';

const PAPER = [246, 242, 232];
const INK = [34, 40, 43];
const ACCENT = [21, 94, 99];
const SKY = [86, 180, 233];

/** In units of the icon's side, centre at 0, 0: half width, half height, corner, turn. */
const TILES = [0, 1, 2, 3].map((quarter) => ({
  angle: quarter * Math.PI / 2 + 0.32, reach: 0.232, half: [0.15, 0.095], corner: 0.05,
  color: quarter === 0 ? ACCENT : INK,
}));
const DOT = { radius: 0.062, color: SKY };

const hex = (color) => `#${color.map((part) => part.toString(16).padStart(2, '0')).join('')}`;

/** The mark on a rounded sheet of paper. */
export function svg() {
  const tiles = TILES.map(({ angle, reach, half: [w, h], corner, color }) =>
    `<rect x="${round(-w)}" y="${round(-reach - h)}" width="${2 * w}" height="${2 * h}" ` +
    `rx="${corner}" fill="${hex(color)}" transform="rotate(${round(angle * 180 / Math.PI)})"/>`);
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="-0.5 -0.5 1 1">` +
    `<rect x="-0.5" y="-0.5" width="1" height="1" rx="0.2" fill="${hex(PAPER)}"/>` +
    `${tiles.join('')}<circle r="${DOT.radius}" fill="${hex(DOT.color)}"/></svg>\n`;
}

const round = (value) => Math.round(value * 10000) / 10000;

/** Signed distance to a rounded box around 0, 0; negative inside. */
function boxDistance(x, y, w, h, corner) {
  const qx = Math.abs(x) - w + corner;
  const qy = Math.abs(y) - h + corner;
  return Math.hypot(Math.max(qx, 0), Math.max(qy, 0)) + Math.min(Math.max(qx, qy), 0) - corner;
}

/** Shapes over each other: [distance function, colour]. */
function shapes(rounded, scale) {
  const list = rounded ? [[(x, y) => boxDistance(x, y, 0.5, 0.5, 0.2), PAPER]]
    : [[() => -1, PAPER]];
  for (const { angle, reach, half, corner, color } of TILES) {
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
    list.push([(x, y) => {
      const [u, v] = [x / scale, y / scale];
      return boxDistance(u * cos + v * sin, v * cos - u * sin + reach, ...half, corner) * scale;
    }, color]);
  }
  list.push([(x, y) => Math.hypot(x, y) - DOT.radius * scale, DOT.color]);
  return list;
}

/** Shades at an edge: enough to look smooth, few enough for a palette. */
const SHADES = 16;

/**
 * @param {number} side pixels
 * @param {{rounded?: boolean, scale?: number}} [options] rounded: paper with round corners on
 *   nothing, else paper to the edges; scale: of the mark on its paper
 */
export function png(side, { rounded = true, scale = 1 } = {}) {
  const palette = new Map();
  const rows = Buffer.alloc(side * (side + 1));
  const layers = shapes(rounded, scale);
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      const color = blend(layers, (column + 0.5) / side - 0.5, (row + 0.5) / side - 0.5, side);
      const key = color.join();
      if (!palette.has(key)) palette.set(key, { index: palette.size, color });
      rows[row * (side + 1) + 1 + column] = palette.get(key).index;
    }
  }
  return pngFile(side, [...palette.values()].map(({ color }) => color), rows);
}

/** Red, green, blue and alpha of a pixel, each up to 255. */
function blend(layers, x, y, side) {
  let [r, g, b, a] = [0, 0, 0, 0];
  for (const [distance, color] of layers) {
    const part = Math.min(1, Math.max(0, 0.5 - distance(x, y) * side));
    const cover = Math.round(part * SHADES) / SHADES;
    const all = cover + a * (1 - cover);
    if (all === 0) continue;
    [r, g, b] = [r, g, b].map((old, i) => (color[i] * cover + old * a * (1 - cover)) / all);
    a = all;
  }
  return [r, g, b, a * 255].map(Math.round);
}

/** PNG (ISO/IEC 15948): 8 bits a pixel into a palette with alpha, no filter. */
function pngFile(side, palette, rows) {
  if (palette.length > 256) throw new Error(`${palette.length} colours do not fit a palette.`);
  const header = Buffer.alloc(13);
  header.writeUInt32BE(side, 0);
  header.writeUInt32BE(side, 4);
  header.set([8, 3, 0, 0, 0], 8);
  return Buffer.concat([Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]), chunk('IHDR', header),
    chunk('PLTE', Buffer.from(palette.flatMap((color) => color.slice(0, 3)))),
    chunk('tRNS', Buffer.from(palette.map((color) => color[3]))),
    chunk('IDAT', deflateSync(rows, { level: 9 })), chunk('IEND', Buffer.alloc(0))]);
}

function chunk(name, data) {
  const body = Buffer.concat([Buffer.from(name), data]);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(data.length);
  const check = Buffer.alloc(4);
  check.writeUInt32BE(crc(body));
  return Buffer.concat([length, body, check]);
}

function crc(bytes) {
  let c = 0xffffffff;
  for (const byte of bytes) {
    c ^= byte;
    for (let bit = 0; bit < 8; bit++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  }
  return (c ^ 0xffffffff) >>> 0;
}
