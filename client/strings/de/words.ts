/** „1 Teil“, „3 Teile“: the plural is always said, since none can be made by rule. */
export const many = (count: number, one: string, more: string): string =>
  `${count} ${count === 1 ? one : more}`;

/** „1 Teil“, „3 Teile“. */
export const teile = (count: number): string => many(count, 'Teil', 'Teile');

/** „A“, „A und B“, „A, B und C“. */
export const und = (names: readonly string[]): string =>
  names.length <= 1 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} und ${names.at(-1)}`;
