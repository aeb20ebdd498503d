// @ts-check
/** What can go wrong with storage, in words that a person can read. */

/** A refusal in words that a person can read. */
export class StorageError extends Error {
  /** @param {string} reason @param {unknown} [cause] */
  constructor(reason, cause) {
    super(reason);
    this.name = 'StorageError';
    this.cause = cause;
  }
}

/** Another tab has become the one that writes. */
export class LostWriter extends StorageError {
  constructor() {
    super('Another tab took over and writes now.');
    this.name = 'LostWriter';
  }
}

/** What was stored has gone: the browser or somebody cleared it while the app ran. */
export class Emptied extends StorageError {
  constructor() {
    super('What was stored here has been cleared.');
    this.name = 'Emptied';
  }
}

/** Storage did not answer in time. */
export class Timeout extends Error {}

/** Any failure as a refusal in plain words. @param {unknown} error */
export function plain(error) {
  if (error instanceof StorageError) return error;
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  if (name === 'QuotaExceededError') {
    return new StorageError('This device has no room left. Free some space and it is tried again.',
      error);
  }
  if (error instanceof Timeout) {
    return new StorageError('The device’s storage does not answer.', error);
  }
  if (name === 'VersionError') {
    return new StorageError('The stored data were written by a newer version of this app.', error);
  }
  if (name === 'SecurityError') {
    return new StorageError('This browser window does not allow storage.', error);
  }
  return new StorageError('The device’s storage does not work at the moment.', error);
}

/** Refusals that trying again with a new handle cannot cure. @param {unknown} error */
export function final(error) {
  if (error instanceof StorageError) return true;
  const name = error instanceof DOMException ? error.name : '';
  return ['QuotaExceededError', 'VersionError', 'SecurityError', 'DataCloneError'].includes(name);
}
