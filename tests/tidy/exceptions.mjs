/**
 * The list of known exceptions: one `rule path reason` a line, `#` begins a comment. It may only
 * shrink: an entry that nothing needs any more is itself a fault.
 */
export function readExceptions(text) {
  return text.split('\n').map((line) => line.trim()).filter((line) => line && line[0] !== '#')
    .map((line) => {
      const [rule, path, ...reason] = line.split(/\s+/);
      return { rule, path, reason: reason.join(' ') };
    });
}

/** The faults that no exception covers, with one more for each exception that is not needed. */
export function applyExceptions(faults, exceptions) {
  const covers = (exception, fault) => {
    return exception.rule === fault.rule && exception.path === fault.path;
  };
  const left = faults.filter((fault) => !exceptions.some((one) => covers(one, fault)));
  for (const exception of exceptions) {
    const { rule, path, reason } = exception;
    if (!faults.some((fault) => covers(exception, fault))) {
      left.push({ rule, path, line: 0, text: 'is listed as an exception but needs none' });
    } else if (!reason) {
      left.push({ rule, path, line: 0, text: 'is an exception without a reason' });
    }
  }
  return left;
}
