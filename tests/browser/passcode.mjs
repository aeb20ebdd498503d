// @ts-check
/** Setting the device's passcode, by hand. */

export const CODE = 'four words of chalk';

/** @param {import('./hands.mjs').Hands} app */
export async function privacy(app) {
  await app.tap('button', 'Settings and files');
  await app.tap('button', 'Privacy and safety');
}

/** @param {import('./hands.mjs').Hands} app */
export async function setPasscode(app) {
  await privacy(app);
  await app.tap('button', 'Set a passcode');
  await app.read('A forgotten passcode is final.');
  await app.type('New passcode', CODE);
  await app.type('The same once more', CODE);
  await app.tap('checkbox', 'I know that forgetting it is final');
  await app.tap('button', 'Set it');
  await app.see('button', 'Lock now');
}
