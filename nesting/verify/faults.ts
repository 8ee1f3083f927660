/** The rules a layout can break. */
export type FaultKind =
  /** A number of the layout or the problem isn't finite, or an outline has fewer than three points. */
  | 'malformed'
  /** The layout names an item, or a copy of it, that the problem doesn't have. */
  | 'unknown-copy'
  /** It names a container, or a copy of one, that the problem doesn't have. */
  | 'unknown-container'
  /** A copy is placed or listed as unplaced more than once. */
  | 'twice'
  /** A copy is neither placed nor listed as unplaced. */
  | 'missing'
  /** The rotation or the hand isn't admissible. */
  | 'pose'
  /** The item may not go into this container. */
  | 'wrong-container'
  /** A piece reaches out of its container. */
  | 'outside'
  /** A piece enters a hole or a flaw. */
  | 'blocked'
  /** Two pieces overlap. */
  | 'overlap'
  /** Two pieces are closer than the gap. */
  | 'gap'
  /** A piece that belongs on the fold doesn't touch it. */
  | 'fold'
  /** A piece lies beside the lattice that its pose is confined to. */
  | 'lattice'
  /** A copy that is fixed lies elsewhere, or nowhere. */
  | 'fixed'
  /** The stated length isn't the length of the layout. */
  | 'length';

/** One broken rule. */
export interface Fault {
  readonly kind: FaultKind;
  /** The copies concerned: one or two; none for `length`. */
  readonly copies: readonly { readonly item: string; readonly copy: number }[];
  /** By how much, in mm (degrees for `pose`); 0 where no amount makes sense. */
  readonly amountMm: number;
  /** An English sentence for logs and tests. */
  readonly text: string;
}

/** A copy of an item, as problems and layouts name it; copies are numbered from 0. */
export type Copy = { readonly item: string; readonly copy: number };

/** A fault that names the copies and nothing else of what it is given for them. */
export function fault(kind: FaultKind, copies: readonly Copy[], amountMm: number, text: string): Fault {
  return { kind, copies: copies.map(({ item, copy }) => ({ item, copy })), amountMm, text };
}

/** How a copy is named in a fault's sentence. */
export const nameOf = ({ item, copy }: Copy) => `copy ${copy} of ${item}`;
/** The same text for the same copy, for maps and sets. */
export const keyOf = ({ item, copy }: Copy) => JSON.stringify([item, copy]);
