const MESSAGES = {
  /** More is waiting than the crew takes, of all together or of this client. */
  full: 'too much is waiting',
  yoursFull: 'too much of this client is waiting',
  outOfTime: 'it took longer than it may',
  outOfMemory: 'it needed more memory than it may take',
  died: 'its thread ended twice without an answer',
  stopped: 'it was stopped',
  closed: 'the crew takes no more errands',
} as const;

export type CrewErrorCode = keyof typeof MESSAGES;

/** Why a crew did not bring an errand to its end; what the errand itself threw comes as an `ErrandError`. */
export class CrewError extends Error {
  override readonly name = 'CrewError';
  readonly code: CrewErrorCode;

  constructor(code: CrewErrorCode, detail?: string) {
    super(detail === undefined ? MESSAGES[code] : `${MESSAGES[code]}: ${detail}`);
    this.code = code;
  }
}

/** An error thrown in a thread, with the name, the words and the stack it had there. */
export class ErrandError extends Error {
  /** What it brought along, see `ErrorWithFacts`. */
  readonly facts: unknown;

  constructor(name: string, message: string, stack: string, facts: unknown) {
    super(message);
    this.name = name;
    this.stack = stack;
    this.facts = facts;
  }
}
