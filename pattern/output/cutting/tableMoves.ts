/** What lies on a table that is shorter than the cloth, place after place. */
export interface TablePlace {
  /** The part of the cloth on the table, mm along it. */
  readonly fromMm: number;
  readonly toMm: number;
  /** What is cut there. */
  readonly tags: readonly string[];
  /** Pieces longer than the table: they hang over its end. */
  readonly hanging: readonly string[];
}

export interface AlongCloth {
  readonly tag: string;
  readonly fromMm: number;
  readonly toMm: number;
}

const SAME_MM = 0.5;

/**
 * Where a cloth lies on a table of limited length: as far along as there are pieces wholly on it, then moved on to
 * the first piece that is not cut yet. Empty where all of it has room.
 */
export function tablePlaces(
  pieces: readonly AlongCloth[],
  fromMm: number,
  toMm: number,
  tableMm: number | null,
): TablePlace[] {
  if (tableMm === null || toMm - fromMm <= tableMm + SAME_MM) return [];
  const places: TablePlace[] = [];
  let open = [...pieces].sort((a, b) => a.fromMm - b.fromMm);
  let at = fromMm;
  while (open.length > 0) {
    const end = Math.min(toMm, at + tableMm);
    const fits = open.filter((piece) => piece.fromMm >= at - SAME_MM && piece.toMm <= end + SAME_MM);
    const hanging = open.filter((piece) => piece.fromMm <= at + SAME_MM && piece.toMm > end + SAME_MM);
    places.push({
      fromMm: at,
      toMm: end,
      tags: fits.map(({ tag }) => tag),
      hanging: hanging.map(({ tag }) => tag),
    });
    const done = new Set([...fits, ...hanging]);
    open = open.filter((piece) => !done.has(piece));
    at = Math.max(at, Math.min(...open.map((piece) => piece.fromMm)));
  }
  return places.filter(({ tags, hanging }) => tags.length + hanging.length > 0);
}
