import { z } from 'zod';
import { spreadSchema } from '../../pattern/exchange/project.ts';

/** What may be said in an address about the file that is wanted. */

export const download = z.enum(['0', '1']).optional().describe('1: to be saved as a file');
export const units = z
  .enum(['cm', 'mm', 'in'])
  .optional()
  .describe("How lengths are written; the project's own if left out");
const paper = z.enum(['a4', 'letter']).default('a4').describe('Paper');
const mirror = z.enum(['0', '1']).default('0').describe('1: turned over, for cloth that lies face down');
/** Wide: what a sheet has no room for is said in the sheet's own words, which know the paper. */
const mm = z.coerce.number().min(0).max(100_000);

/** How things in true size are divided over paper. */
const fullSize = {
  page: z
    .enum(['a4', 'letter', 'a3', 'tabloid', 'a1', 'a0', 'both', 'roll', 'one'])
    .default('a4')
    .describe(
      'Paper to divide over; `both`: sheets that fit A4 and Letter; `roll`: paper from a roll, in parts of at most 5080 mm; `one`: one sheet each, as large as it takes',
    ),
  roll: mm.default(914.4).describe('Width of the roll of paper, mm'),
  margin: mm.default(10).describe('Blank edge of every sheet, mm'),
  overlap: mm.default(0).describe('How far neighbouring sheets show the same, mm'),
};

/** Of a project: which plan. A lay is a plan by itself. */
export const ofPlan = {
  plan: z.string().max(64).optional().describe('Id of a kept plan; the latest if left out'),
};
const which = {
  cloth: z.string().max(64).optional().describe('Id of the cloth; every cloth if left out'),
  material: z.string().max(64).optional().describe('Id of the material'),
  spread: spreadSchema
    .optional()
    .describe(
      'How the cloth is spread. If left out, what is cut from has every remnant and, of each material, one layout of a roll: the one the project says (`cutting.cutBy`), else the cheapest, else the shortest; a table of consumption has all',
    ),
};

export const tableQuery = z.object({ ...which, download });
export const planQuery = z.object({ ...which, page: paper, units, download });
export const projectorLayQuery = z.object({ ...which, mirror, units, download });
export const fullQuery = z.object({ ...which, ...fullSize, units, download });

/** Which layouts of a project. */
export type Which = Pick<z.output<typeof tableQuery>, 'cloth' | 'material' | 'spread'> & {
  readonly plan?: string | undefined;
};

export const drawingQuery = z.object({
  cloth: z.string().max(64).optional().describe('Id of the cloth'),
  material: z.string().max(64).optional().describe('Id of the material'),
  spread: spreadSchema.optional().describe('How the cloth is spread'),
  page: z
    .enum(['a4', 'letter', 'fit'])
    .default('a4')
    .describe('Sheet of paper, or as large as the drawing wants to be'),
  units,
  download,
});

const piece = z.string().max(64).optional().describe('Id of the piece; all pieces if left out');

export const piecesQuery = z.object({
  piece,
  ...fullSize,
  unfold: z.enum(['0', '1']).default('0').describe('1: half pieces opened out'),
  units,
  download,
});

export const projectorPiecesQuery = z.object({
  piece,
  unfold: z.enum(['0', '1']).default('1').describe('1: half pieces opened out'),
  mirror,
  units,
  download,
});

export const piecesDxfQuery = z.object({ piece, download });
export const listQuery = z.object({ download });
export const shoppingQuery = z.object({ page: paper, units, download });

export const ticksQuery = z.object({
  by: z.enum(['material', 'part']).default('material').describe('What the list is ordered by'),
  page: paper,
  units,
  download,
});

export const labelsQuery = z.object({
  material: z.string().max(64).optional().describe('Id of the material; all if left out'),
  page: paper,
  rows: z.coerce.number().int().min(1).max(100).default(8).describe('Labels one below the other'),
  columns: z.coerce.number().int().min(1).max(50).default(3).describe('Labels side by side'),
  marginX: mm.default(8).describe('Left and right of the outer labels, mm'),
  marginY: mm.default(12).describe('Above and below the outer labels, mm'),
  gapX: mm.default(2).describe('Between labels side by side, mm'),
  gapY: mm.default(0).describe('Between labels one below the other, mm'),
  frames: z.enum(['0', '1']).default('1').describe('1: a line around each label'),
  download,
});
