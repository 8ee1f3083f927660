/**
 * The rooms of the house and the direction of imports between them. A room may use itself and what is listed;
 * `types` rooms only through `import type`.
 */
export interface Room {
  /** Folder (with a slash) or single file; of several that match a path the longest counts. */
  readonly name: string;
  readonly uses: readonly string[];
  readonly types?: readonly string[];
  /** Runs in Node, a worker thread and the browser alike: no Node modules, no clock, no chance. */
  readonly pure?: boolean;
  /** The packages it may use; any of package.json's where this is missing. */
  readonly packages?: readonly string[];
}

const NESTING = [
  'nesting/geometry/',
  'nesting/nfp/',
  'nesting/packing/',
  'nesting/cloth/',
  'nesting/hand/',
  'nesting/verify/',
];
const CONTRACT = 'nesting/packing/types.ts';
const POLYGON_PACKAGES = ['robust-predicates', 'clipper-lib', 'polygon-clipping'];

export const ROOMS: readonly Room[] = [
  { name: 'nesting/geometry/', uses: [], types: [CONTRACT], pure: true, packages: POLYGON_PACKAGES },
  {
    name: 'nesting/nfp/',
    uses: ['nesting/geometry/'],
    types: [CONTRACT],
    pure: true,
    packages: POLYGON_PACKAGES,
  },
  { name: CONTRACT, uses: [], pure: true, packages: [] },
  {
    name: 'nesting/packing/',
    uses: ['nesting/geometry/', 'nesting/nfp/'],
    types: [CONTRACT],
    pure: true,
    packages: ['yalps'],
  },
  {
    name: 'nesting/cloth/',
    uses: ['nesting/geometry/', 'nesting/nfp/', 'nesting/packing/'],
    types: [CONTRACT],
    pure: true,
    packages: [],
  },
  {
    name: 'nesting/hand/',
    // A hand catches on the same repeat that the engine packs on.
    uses: ['nesting/geometry/', 'nesting/nfp/', 'nesting/packing/lattice.ts'],
    types: [CONTRACT],
    pure: true,
    packages: [],
  },
  // The checker shares no code with what it checks.
  { name: 'nesting/verify/', uses: [], types: [CONTRACT], pure: true, packages: [] },
  { name: 'nesting/', uses: NESTING, types: [CONTRACT], pure: true, packages: [] },
  { name: 'nesting/workers/', uses: ['nesting/', ...NESTING], types: [CONTRACT], packages: ['tsx'] },
  {
    name: 'pattern/',
    uses: ['nesting/geometry/'],
    types: ['nesting/index.ts', CONTRACT],
    pure: true,
  },
  {
    name: 'pattern/lay/',
    uses: ['pattern/', 'nesting/geometry/', 'nesting/cloth/', 'nesting/hand/', 'nesting/verify/'],
    types: ['nesting/index.ts', CONTRACT],
    pure: true,
  },
  {
    name: 'pattern/enough/',
    uses: ['pattern/', 'pattern/lay/', 'nesting/geometry/'],
    types: ['nesting/index.ts', CONTRACT],
    pure: true,
  },
  {
    name: 'server/',
    uses: [
      'pattern/',
      'pattern/lay/',
      'pattern/enough/',
      'nesting/',
      'nesting/workers/',
      ...NESTING,
      CONTRACT,
    ],
  },
  {
    name: 'client/',
    uses: ['pattern/', 'pattern/lay/', 'pattern/enough/', 'nesting/', ...NESTING, CONTRACT],
  },
];

/** The room a path lies in, or undefined outside the rooms (tests, fixtures, settings). */
export function roomOf(path: string): Room | undefined {
  return ROOMS.filter(({ name }) => (name.endsWith('/') ? path.startsWith(name) : path === name)).sort(
    (a, b) => b.name.length - a.name.length,
  )[0];
}

/** Whether a file of one room may refer to a path, and if not, why not. */
export function forbidden(from: Room, to: string, typeOnly: boolean): string | null {
  const target = roomOf(to);
  if (!target) return `${to} lies in no room that others may use`;
  if (target === from) return null;
  // A room within a room (pattern/lay) may be used by its house, as a whole.
  const named = (list: readonly string[]) => list.includes(target.name) || list.includes(to);
  if (named(from.uses)) return null;
  if (named(from.types ?? [])) return typeOnly ? null : `${to} may only be used through import type`;
  return `${from.name} may not use ${target.name}`;
}
