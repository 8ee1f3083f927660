/** Input that can't be worked with; the message is for whoever gave it. */
export class InputError extends Error {
  override readonly name = 'InputError';
}
