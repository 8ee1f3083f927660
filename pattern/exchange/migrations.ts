import { z } from 'zod';
import { PROJECT_FORMAT } from './project.ts';

/**
 * Changes of the project document from one version to the next. Each step reads the old shape through a schema of its
 * own, kept as it was, and writes the next; steps are never edited once documents of that age may exist, and each has
 * an old file in fixtures/projects that a test opens.
 */

/** Step n makes a document of version n + 1 of one of version n. A ZodError means the old document is faulty. */
export const MIGRATIONS: Readonly<Record<number, (old: unknown) => unknown>> = {
  0: fromVersion0,
  1: fromVersion1,
};

/**
 * Version 0, the sketch before the first release: outlines as flat lists of millimetres, one count for each piece and
 * material with a flag for pairs, rolls only, with their width in centimetres.
 */
const version0Schema = z.object({
  format: z.literal(PROJECT_FORMAT),
  version: z.literal(0),
  title: z.string(),
  inches: z.boolean().default(false),
  pieces: z.array(
    z.object({
      id: z.string(),
      name: z.string(),
      /** x0, y0, x1, y1, … */
      points: z.array(z.number()),
      grain: z.enum(['upright', 'level']),
      foldEdge: z.number().int().optional(),
    }),
  ),
  materials: z.array(z.string()),
  cuts: z.array(
    z.object({
      piece: z.string(),
      /** Index into `materials`. */
      material: z.number().int().min(0),
      copies: z.number().int().min(0),
      /** Half of the copies are mirrored. */
      pairs: z.boolean().default(false),
    }),
  ),
  rolls: z.array(
    z.object({
      name: z.string(),
      material: z.number().int().min(0),
      widthCm: z.number(),
      napped: z.boolean().default(false),
    }),
  ),
});

function fromVersion0(old: unknown): unknown {
  const document = version0Schema.parse(old);
  const materialId = (index: number): string => `material-${index + 1}`;
  const halves = new Set(document.pieces.filter((p) => p.foldEdge !== undefined).map((p) => p.id));
  return {
    format: PROJECT_FORMAT,
    version: 1,
    name: document.title,
    units: document.inches ? 'in' : 'cm',
    pieces: document.pieces.map((piece) => ({
      id: piece.id,
      name: piece.name,
      outline: pairsOf(piece.points),
      grainDeg: piece.grain === 'upright' ? 90 : 0,
      foldEdge: piece.foldEdge ?? null,
    })),
    materials: document.materials.map((name, index) => ({
      id: materialId(index),
      name,
      role: index === 0 ? 'main' : 'other',
    })),
    cutList: document.cuts.map(({ piece, material, copies, pairs }) => {
      const mirrored = pairs ? Math.floor(copies / 2) : 0;
      const onFold = halves.has(piece) ? copies : 0;
      return {
        pieceId: piece,
        materialId: materialId(material),
        plain: onFold > 0 ? 0 : copies - mirrored,
        mirrored: onFold > 0 ? 0 : mirrored,
        onFold,
      };
    }),
    cloths: document.rolls.map((roll, index) => ({
      kind: 'roll',
      id: `roll-${index + 1}`,
      name: roll.name,
      materialId: materialId(roll.material),
      widthMm: roll.widthCm * 10,
      nap: roll.napped ? 'oneWay' : 'none',
    })),
    layChoices: document.materials.map((_, index) => ({
      materialId: materialId(index),
      clothIds: document.rolls.flatMap((roll, at) => (roll.material === index ? [`roll-${at + 1}`] : [])),
    })),
  };
}

/** Version 2 only adds fields, each with a default that means what version 1 meant; `projectSchema` fills them in. */
const version1Schema = z.looseObject({ format: z.literal(PROJECT_FORMAT), version: z.literal(1) });

function fromVersion1(old: unknown): unknown {
  return { ...version1Schema.parse(old), version: 2 };
}

function pairsOf(numbers: readonly number[]): [number, number][] {
  const points: [number, number][] = [];
  for (let i = 0; i + 1 < numbers.length; i += 2) points.push([numbers[i]!, numbers[i + 1]!]);
  return points;
}
