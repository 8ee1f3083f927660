/**
 * Stretches of a long strip within which one move looks for a place. With many copies, most are far away; a move that
 * had to know them all would cost ever more without finding better places. A copy that stays within a window can only
 * overlap copies that reach into it.
 */
export class Windows {
  readonly low: Float64Array;
  readonly high: Float64Array;

  constructor(count: number) {
    this.low = new Float64Array(count);
    this.high = new Float64Array(count);
  }

  get count(): number {
    return this.low.length;
  }

  set(k: number, middle: number, width: number): void {
    this.low[k] = middle - width / 2;
    this.high[k] = middle + width / 2;
  }

  /** Whether a stretch from `from` to `to` reaches into any window. */
  meets(from: number, to: number): boolean {
    for (let k = 0; k < this.low.length; k++)
      if (from < (this.high[k] as number) && to > (this.low[k] as number)) return true;
    return false;
  }
}
