import type { Point, Solve } from '../../nesting/index.ts';
import { search } from '../../nesting/index.ts';
import { solveInThisThread } from '../../nesting/solveInThisThread.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { type ClothLay, type Project, projectSchema, type Spread } from '../../pattern/exchange/project.ts';
import { runLay } from '../../pattern/lay/runLay.ts';

export const INCH = 25.4;

/** A rectangle's outline as the project keeps it: counter-clockwise from its lower left corner. */
export const box = (width: number, height: number): Point[] => [
  [0, 0],
  [width, 0],
  [width, height],
  [0, height],
];

/** A piece that no turn makes its own mirror image. */
export const HOOKED: readonly Point[] = [
  [0, 0],
  [200, 0],
  [200, 80],
  [90, 80],
  [60, 140],
  [0, 140],
];

/** A roll so many inches wide, sold by the millimetre. */
export const rollOf = (widthIn: number, over: object = {}): object => ({
  kind: 'roll',
  widthMm: widthIn * INCH,
  shopStepMm: 1,
  ...over,
});

const solve = solveInThisThread(search, () => performance.now());

/** Runs the engine in this thread; a layout that had to be dropped as illegal fails the test. */
export const solveChecked: Solve = async (problem, options) => {
  const result = await solve(problem, options);
  if (result.engineFaults) throw new Error(`illegal layout: ${result.engineFaults.join('; ')}`);
  return result;
};

type Part<T> = { [K in keyof T]?: T[K] };

/** A project with one material and one cloth, filled up to validity from the parts that a test cares about. */
export function smallProject(parts: {
  pieces: {
    name: string;
    outline: readonly Point[];
    plain?: number;
    mirrored?: number;
    onFold?: number;
    piece?: object;
  }[];
  cloth: Part<Record<string, unknown>>;
  units?: Project['units'];
}): Project {
  return projectSchema.parse({
    format: 'clothlay-project',
    version: 2,
    name: 'test',
    units: parts.units ?? 'cm',
    pieces: parts.pieces.map(({ name, outline, piece }) => ({ id: name, name, outline, ...piece })),
    materials: [{ id: 'cloth', name: 'cloth' }],
    cutList: parts.pieces.map(({ name, plain = 0, mirrored = 0, onFold = 0 }) => ({
      pieceId: name,
      materialId: 'cloth',
      plain,
      mirrored,
      onFold,
    })),
    cloths: [{ id: 'c', name: 'cloth', materialId: 'cloth', ...parts.cloth }],
  });
}

/** Lays a project out with few steps of search and gives the results in order. */
export async function layOf(
  project: Project,
  options: { spread?: Spread | 'compare'; maxSteps?: number; seconds?: number } = {},
): Promise<{ results: readonly ClothLay[]; notices: readonly { code: string; text: string }[] }> {
  const request = layRequestSchema.parse({
    project,
    choices: [{ materialId: 'cloth', spread: options.spread ?? 'single' }],
    seconds: options.seconds ?? 20,
    maxSteps: options.maxSteps ?? 50,
  });
  return runLay(request, solveChecked, () => {}, new AbortController().signal);
}
