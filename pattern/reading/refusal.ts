/** Ends the reading of a file that cannot be used. `message` is one sentence for the maker; never leaves `readSvg`. */
export class Refusal extends Error {
  override readonly name = 'Refusal';
}
