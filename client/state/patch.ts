/** What turns one JSON value into another; null where nothing has to be done. */
export type Patch =
  | null
  | { readonly set: unknown }
  /** An object with the same keys in the same order, some of them changed. */
  | { readonly keys: Readonly<Record<string, Patch>> }
  /** A list of the same length, some places changed. */
  | { readonly items: readonly (readonly [place: number, change: Patch])[] }
  /** A list of which a stretch was replaced by another. */
  | { readonly at: number; readonly drop: number; readonly put: readonly unknown[] };

export type PlainObject = Readonly<Record<string, unknown>>;

export function isPlainObject(value: unknown): value is PlainObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Whether two JSON values are the same, in everything but the order of keys. Parts that are shared cost nothing. */
export function isSameJson(one: unknown, other: unknown): boolean {
  if (Object.is(one, other)) return true;
  if (Array.isArray(one) && Array.isArray(other)) {
    return one.length === other.length && one.every((entry, place) => isSameJson(entry, other[place]));
  }
  if (!isPlainObject(one) || !isPlainObject(other)) return false;
  const keys = Object.keys(one);
  return (
    keys.length === Object.keys(other).length &&
    keys.every((key) => key in other && isSameJson(one[key], other[key]))
  );
}

/** The change from `before` to `after`: small where little changed, quick where the two share parts. */
export function diff(before: unknown, after: unknown): Patch {
  if (Object.is(before, after)) return null;
  if (Array.isArray(before) && Array.isArray(after)) return diffLists(before, after);
  if (isPlainObject(before) && isPlainObject(after)) return diffObjects(before, after);
  return { set: after };
}

function diffObjects(before: PlainObject, after: PlainObject): Patch {
  const names = Object.keys(after);
  const old = Object.keys(before);
  // Keys that came or went: the order counts too, so that the text of the document comes back as it was.
  if (names.length !== old.length || names.some((name, place) => name !== old[place])) return { set: after };
  const keys: Record<string, Patch> = {};
  for (const name of names) {
    const change = diff(before[name], after[name]);
    if (change !== null) keys[name] = change;
  }
  return Object.keys(keys).length === 0 ? null : { keys };
}

function diffLists(before: readonly unknown[], after: readonly unknown[]): Patch {
  if (before.length === after.length) {
    const items = after.flatMap((entry, place): [number, Patch][] => {
      const change = diff(before[place], entry);
      return change === null ? [] : [[place, change]];
    });
    return items.length === 0 ? null : { items };
  }
  const shorter = Math.min(before.length, after.length);
  let at = 0;
  while (at < shorter && diff(before[at], after[at]) === null) at++;
  let end = 0;
  while (end < shorter - at && diff(before.at(-1 - end), after.at(-1 - end)) === null) end++;
  return { at, drop: before.length - at - end, put: after.slice(at, after.length - end) };
}

/** Applies a patch to the value it was made from; parts it does not touch are shared. */
export function apply(value: unknown, patch: Patch): unknown {
  if (patch === null) return value;
  if ('set' in patch) return patch.set;
  if ('keys' in patch) {
    const object = value as PlainObject;
    return Object.fromEntries(
      Object.entries(object).map(([key, entry]) => [key, apply(entry, patch.keys[key] ?? null)]),
    );
  }
  const list = value as readonly unknown[];
  if ('items' in patch) {
    const changed = [...list];
    for (const [place, change] of patch.items) changed[place] = apply(list[place], change);
    return changed;
  }
  return [...list.slice(0, patch.at), ...patch.put, ...list.slice(patch.at + patch.drop)];
}
