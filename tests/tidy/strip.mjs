/**
 * The code of a C++ or JavaScript text without its comments and without what stands inside its
 * strings: each such character becomes a blank, line breaks stay, so positions do not move.
 * Good enough to find braces and names; no full parser.
 */
export function stripCode(text, language) {
  const spans = language === 'cpp' ? cppSpans(text) : jsSpans(text);
  let out = '';
  let end = 0;
  for (const [from, to] of spans) {
    out += text.slice(end, from) + text.slice(from, to).replace(/[^\n]/g, ' ');
    end = to;
  }
  return out + text.slice(end);
}

/** The index after the first `stop` from `from` on, or the end of the text. */
function after(text, stop, from) {
  const at = text.indexOf(stop, from);
  return at < 0 ? text.length : at + stop.length;
}

/** The index after a quoted text that opens at `from`; a backslash hides the next character. */
function afterQuote(text, from) {
  const quote = text[from];
  let i = from + 1;
  while (i < text.length && text[i] !== quote && (quote === '`' || text[i] !== '\n')) {
    i += text[i] === '\\' ? 2 : 1;
  }
  return Math.min(i + 1, text.length);
}

function commentEnd(text, i) {
  if (text.startsWith('//', i)) return after(text, '\n', i) - (text.indexOf('\n', i) < 0 ? 0 : 1);
  if (text.startsWith('/*', i)) return after(text, '*/', i + 2);
  return 0;
}

/** [from, to) of every comment and of the inside of every literal. */
function cppSpans(text) {
  const spans = [];
  for (let i = 0; i < text.length; ) {
    const comment = commentEnd(text, i);
    const raw = text[i] === 'R' && /^R"([^()\\ ]{0,16})\(/.exec(text.slice(i, i + 20));
    if (comment) {
      spans.push([i, comment]);
      i = comment;
    } else if (raw) {
      const end = after(text, `)${raw[1]}"`, i + raw[0].length);
      spans.push([i + 2, end - 1]);
      i = end;
    } else if (text[i] === '"' || (text[i] === "'" && !/\w/.test(text[i - 1] ?? ''))) {
      const isInclude = /#\s*include\s*$/.test(text.slice(Math.max(0, i - 20), i));
      const end = afterQuote(text, i);
      if (!isInclude) spans.push([i + 1, end - 1]);
      i = end;
    } else {
      i++;
    }
  }
  return spans;
}

/** A slash begins a regular expression where no value can have ended. */
function regexEnd(text, i) {
  const before = text.slice(Math.max(0, i - 40), i).trimEnd();
  if (!/(^|[(,=:[!&|?{};+~<>]|\b(return|typeof|case|of|in))$/.test(before)) return 0;
  const found = /^\/(?:\\.|\[(?:\\.|[^\]\\\n])*\]|[^/\\[\n])+\//.exec(text.slice(i, i + 400));
  return found ? i + found[0].length : 0;
}

function jsSpans(text) {
  const spans = [];
  for (let i = 0; i < text.length; ) {
    const comment = commentEnd(text, i);
    const regex = !comment && text[i] === '/' ? regexEnd(text, i) : 0;
    const isQuote = text[i] === '"' || text[i] === "'" || text[i] === '`';
    const end = comment || regex || (isQuote ? afterQuote(text, i) : 0);
    if (end) {
      spans.push(comment ? [i, end] : [i + 1, end - 1]);
      i = end;
    } else {
      i++;
    }
  }
  return spans;
}
