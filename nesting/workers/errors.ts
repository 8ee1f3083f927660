const MESSAGES = {
  closed: 'the pool is closed and takes no more searches',
  crashed: 'a search thread ended without an answer',
  failed: 'the search gave up with an error',
  'engine-fault': 'the engine made only illegal layouts, which were dropped',
} as const;

export type PoolErrorCode = keyof typeof MESSAGES;

/** Why the pool could not answer. What a caller asked for wrongly arrives as `failed`, with the engine's words. */
export class PoolError extends Error {
  override readonly name = 'PoolError';
  readonly code: PoolErrorCode;

  constructor(code: PoolErrorCode, detail?: string) {
    super(detail ? `${MESSAGES[code]}: ${detail}` : MESSAGES[code]);
    this.code = code;
  }
}
