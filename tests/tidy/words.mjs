/** Words that must not stand in any file. They are written in parts so as not to match here. */

const BANNED = [
  ['TO' + 'DO', 'an unfinished thought'],
  ['FIX' + 'ME', 'an unfinished thought'],
  ['XX' + 'X', 'an unfinished thought'],
].map(([word, why]) => ({ pattern: new RegExp(`\\b${word}\\b`), why }));

BANNED.push(
  { pattern: new RegExp('\\blor' + 'em ipsum', 'i'), why: 'filler text' },
  { pattern: new RegExp('\\b\\w+\\.debi' + 'an\\.(?:org|net)\\b'), why: 'a registry host' },
  { pattern: new RegExp('\\bregistry\\.[\\w-]+\\.[a-z]+\\b', 'i'), why: 'a registry host' },
  { pattern: new RegExp('(?<!registry\\.)\\bnpm' + 'js\\.(?:org|com)\\b'), why: 'a registry host' },
  { pattern: new RegExp('"resol' + 'ved":'), why: 'a registry address in a lock file' },
  { pattern: new RegExp('(?:^|[\\s"\'`(=])/(?:wo' + 'rk|ro' + 'ot|ho' + 'me)/'),
    why: 'a path of one machine' },
  { pattern: new RegExp('\\bsha' + 'red/'), why: 'a folder that is not part of this repository' },
);

/** Violations in one text: [{rule, line, text}]. */
export function checkWords(content) {
  const found = [];
  content.split('\n').forEach((text, i) => {
    for (const { pattern, why } of BANNED) {
      const match = pattern.exec(text);
      if (match) found.push({ rule: 'word', line: i + 1, text: `“${match[0].trim()}”: ${why}` });
    }
  });
  return found;
}
