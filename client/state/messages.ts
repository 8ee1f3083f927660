import { Store } from './store.ts';

/** A short word to the maker, with a way back where there is one. */
export interface Message {
  readonly id: number;
  readonly text: string;
  readonly tone: 'done' | 'bad';
  readonly action?: { readonly label: string; readonly run: () => void };
}

const SHOWN_FOR_MS = 8_000;
const MOST_AT_ONCE = 3;

/** The messages on screen, oldest first. Those that carry no fault go away by themselves. */
export class Messages {
  readonly shown = new Store<readonly Message[]>([]);
  #last = 0;
  readonly #later: (ms: number, callback: () => void) => void;

  constructor(later: (ms: number, callback: () => void) => void) {
    this.#later = later;
  }

  /** @returns the message's id, to dismiss it by */
  say(text: string, options: Pick<Message, 'action'> & { tone?: Message['tone'] } = {}): number {
    this.#last += 1;
    const { tone = 'done', action } = options;
    const message: Message = { id: this.#last, text, tone, ...(action ? { action } : {}) };
    this.shown.set([...this.shown.value, message].slice(-MOST_AT_ONCE));
    if (tone === 'done') this.#later(SHOWN_FOR_MS, () => this.dismiss(message.id));
    return message.id;
  }

  dismiss(id: number): void {
    this.shown.set(this.shown.value.filter((message) => message.id !== id));
  }
}
