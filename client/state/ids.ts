/**
 * A fresh id such as `piece-3f9a0c1e`: 32 random bits, enough for one document, and valid for the schema.
 * Ids are made when a command is made, not when it runs, so that redoing gives the same document.
 */
export function freshId(prefix: string): string {
  const bits = crypto.getRandomValues(new Uint32Array(1))[0] ?? 0;
  return `${prefix}-${bits.toString(16).padStart(8, '0')}`;
}
