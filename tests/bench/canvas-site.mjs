import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Writes a site of one canvas, as large as the app's, and one script; returns its folder.
 *  @param {string} script */
export function canvasSite(script) {
  const folder = mkdtempSync(join(tmpdir(), 'canvas-site-'));
  writeFileSync(join(folder, 'start.mjs'), script);
  writeFileSync(join(folder, 'index.html'), `<!doctype html><title>bare</title>
    <style>body { margin: 0 }</style>
    <canvas id="canvas" width="1024" height="768"></canvas>
    <script type="module" src="start.mjs"></script>`);
  return folder;
}
