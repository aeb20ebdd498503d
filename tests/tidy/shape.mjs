/** Length of files, functions and lines; tabs and blanks at a line's end. */
import { stripCode } from './strip.mjs';

export const MAX_FILE_LINES = 400;
export const MAX_FUNCTION_LINES = 70;
export const MAX_COLUMNS = 100;

const CONTROL = /^(?:else\s+)?(?:if|for|while|switch|catch|with)\b/;
const TAIL = String.raw`(?:const|noexcept|override|final|mutable|->[\w\s:<>,&*\[\]]+|=>)`;
const FUNCTION_HEAD = new RegExp(
  String.raw`(?:\)(?:\s*${TAIL})*|\)\s*:\s[^;]*[)}]|\w\s*=>|\]\s*(?:mutable)?)$`,
);

function isFunctionHead(head) {
  return !CONTROL.test(head) && FUNCTION_HEAD.test(head) && !/^(?:namespace|enum)\b/.test(head);
}

/**
 * Every function body of the text as {line, lines}: `line` where its head's brace stands, `lines`
 * from there to its closing brace. What counts as a head is judged by the text before a brace.
 */
export function functionsIn(text, language) {
  const code = stripCode(text, language);
  const found = [];
  const open = [];
  let line = 1;
  let headFrom = 0;
  let parens = 0;
  for (let i = 0; i < code.length; i++) {
    if (code[i] === '\n') line++;
    else if (code[i] === '(') parens++;
    else if (code[i] === ')') parens--;
    else if (code[i] === ';' && parens === 0) headFrom = i + 1;
    else if (code[i] === '{') {
      const head = code.slice(headFrom, i).trim();
      open.push({ line, headFrom, parens, isFunction: isFunctionHead(head) });
      headFrom = i + 1;
      parens = 0;
    } else if (code[i] === '}' && open.length > 0) {
      const block = open.pop();
      parens = block.parens;
      // A brace pair on one line, as in an initialiser list, is part of a longer head.
      headFrom = block.line === line ? block.headFrom : i + 1;
      if (block.isFunction) found.push({ line: block.line, lines: line - block.line + 1 });
    }
  }
  return found;
}

/** Violations of form in one file: [{rule, line, text}]. `kind` is cpp, js, code or text. */
export function checkShape(content, kind) {
  const found = [];
  const lines = content.split('\n');
  if (lines.at(-1) === '') lines.pop();
  lines.forEach((text, i) => {
    const line = i + 1;
    if (/[ \t]$/.test(text)) found.push({ rule: 'trailing-space', line, text: 'blank at the end' });
    if (text.includes('\t')) found.push({ rule: 'tab', line, text: 'tab' });
    const columns = [...text].length;
    if (kind !== 'text' && columns > MAX_COLUMNS) {
      found.push({ rule: 'line-length', line, text: `${columns} columns` });
    }
  });
  if (kind !== 'text' && lines.length > MAX_FILE_LINES) {
    found.push({ rule: 'file-length', line: 1, text: `${lines.length} lines` });
  }
  if (kind === 'cpp' || kind === 'js') {
    for (const { line, lines: length } of functionsIn(content, kind)) {
      if (length > MAX_FUNCTION_LINES) {
        found.push({ rule: 'function-length', line, text: `${length} lines` });
      }
    }
  }
  return found;
}
