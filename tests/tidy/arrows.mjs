/** Which folder may include which, and what the core must keep away from. */
import { stripCode } from './strip.mjs';

/** The module graph that core/CMakeLists.txt states: Map of module -> set of all it may include. */
export function modulesFrom(cmake) {
  const direct = new Map();
  for (const match of cmake.matchAll(/^core_module\((\w+)(?:\s+DEPS\s+([\w\s]+))?\)/gm)) {
    direct.set(match[1], (match[2] ?? '').split(/\s+/).filter(Boolean));
  }
  const reach = (module, seen = new Set()) => {
    if (seen.has(module)) return seen;
    seen.add(module);
    for (const next of direct.get(module) ?? []) reach(next, seen);
    return seen;
  };
  return new Map([...direct.keys()].map((module) => [module, reach(module)]));
}

const CORE_BANS = [
  [/#\s*include\s*<(?:fstream|iostream|filesystem|locale)>/, 'files, streams and locales'],
  [/\b(?:system_clock|steady_clock|high_resolution_clock)\b|\bstd::time\(/, 'a clock'],
  [/\brandom_device\b|\bstd::rand\b|\bstd::shuffle\b|\bstd::\w+_distribution\b/,
    'chance that differs from machine to machine'],
];

function includesOf(content) {
  const found = [];
  content.split('\n').forEach((text, i) => {
    const match = /^\s*#\s*include\s*["<]([^">]+)[">]/.exec(text);
    if (match) found.push({ line: i + 1, target: match[1] });
  });
  return found;
}

/** Why a file of `path` may not include `target`, or "" if it may. */
export function arrowFault(path, target, modules) {
  const [top, folder] = path.split('/');
  const isBrowser = /^(?:SDL|emscripten|GLES|GL\/|web-shell\/)/.test(target);
  const isScreen = /^(?:imgui|ui\/)/.test(target);
  if (top === 'ui' && isBrowser) return 'ui must not know the browser or SDL';
  if (top !== 'core') return '';
  if (isBrowser || isScreen) return 'core must not know screens';
  const module = target.includes('/') ? target.split('/')[0] : '';
  if (module === 'nlohmann' && modules.has(folder) && !modules.get(folder).has('json')) {
    return `core/${folder} does not depend on json`;
  }
  if (module === 'cli' && folder !== 'cli') return `core/${folder} must not include the cli`;
  if (!modules.has(module) || folder === 'cli') return '';
  return modules.get(folder)?.has(module) ? '' : `core/${folder} does not depend on ${module}`;
}

/** Violations of one C++ file: [{rule, line, text}]. */
export function checkArrows(path, content, modules) {
  const found = [];
  for (const { line, target } of includesOf(content)) {
    const fault = arrowFault(path, target, modules);
    if (fault) found.push({ rule: 'arrow', line, text: `${target}: ${fault}` });
  }
  if (path.startsWith('core/') && !path.startsWith('core/cli/')) {
    stripCode(content, 'cpp').split('\n').forEach((text, i) => {
      for (const [pattern, what] of CORE_BANS) {
        if (pattern.test(text)) {
          found.push({ rule: 'pure-core', line: i + 1, text: `core must not use ${what}` });
        }
      }
    });
  }
  return found;
}
