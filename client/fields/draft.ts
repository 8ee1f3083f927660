import { useState } from 'preact/hooks';

/** What a field needs to hold text that is not (yet) a value. */
export interface Draft {
  /** What stands in the field. */
  readonly text: string;
  readonly fault: string | null;
  /** Typed but not taken over: Ctrl + Z then belongs to the field, not to the document. */
  readonly isOpen: boolean;
  readonly onInput: (text: string) => void;
  /** Takes the text over, or shows what is wrong with it. @returns whether it was taken */
  readonly commit: () => boolean;
  readonly revert: () => void;
}

export type Reading<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly fault: string };

/**
 * A field whose text is read only when the maker leaves it or presses Enter. Until then, and as long as it can't be
 * read, the text stays as typed; a change of the value from outside (undo, swap) replaces it.
 */
export function useDraft<T>(
  shown: string,
  read: (text: string) => Reading<T>,
  take: (value: T) => void,
): Draft {
  const [typed, setTyped] = useState<{ readonly text: string; readonly over: string } | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const isOpen = typed !== null && typed.over === shown;
  const text = isOpen ? typed.text : shown;
  return {
    text,
    fault: isOpen ? fault : null,
    isOpen,
    onInput: (next) => {
      setTyped({ text: next, over: shown });
      setFault(null);
    },
    commit: () => {
      if (!isOpen || typed.text === shown) {
        setTyped(null);
        return true;
      }
      const reading = read(typed.text);
      if (!reading.ok) {
        setFault(reading.fault);
        return false;
      }
      setTyped(null);
      setFault(null);
      take(reading.value);
      return true;
    },
    revert: () => {
      setTyped(null);
      setFault(null);
    },
  };
}
