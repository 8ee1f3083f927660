import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { COMMAND_NAMES } from '../../client/state/command.ts';
import { withTicks } from '../../client/state/cuttingCommands.ts';
import { materialMark } from '../../client/state/fingerprint.ts';
import { recordOfRun } from '../../client/state/layCommands.ts';
import { joinParts } from '../../client/state/partCommands.ts';
import { apply, diff } from '../../client/state/patch.ts';
import { withUnits } from '../../client/state/projectCommands.ts';
import { settleProject } from '../../pattern/cutList/index.ts';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { type Project, projectSchema } from '../../pattern/exchange/project.ts';
import { danglingIds } from '../../pattern/exchange/references.ts';
import { runLay } from '../../pattern/lay/runLay.ts';
import { box, solveChecked } from '../support/layOf.ts';
import { expectValid, Maker } from './harness.ts';
import { BASIC_MOVES, type Move } from './walk/basicMoves.ts';
import { FURTHER_MOVES } from './walk/furtherMoves.ts';
import { HAND_MOVES } from './walk/handMoves.ts';

const MOVES = [...BASIC_MOVES, ...FURTHER_MOVES, ...HAND_MOVES];

/** What is written into every snapshot, so that no step back takes it away: ticks at the table, the unit shown. */
const AMENDMENTS: readonly ((n: number) => (project: Project) => Project)[] = [
  (n) => withTicks([`mark ${n % 5}`], n % 3 > 0),
  (n) => withUnits((['cm', 'mm', 'in'] as const)[n % 3]!),
];

/** A small pouch with its layouts found: on a remnant and the roll behind it, so that pieces can change hands. */
async function laidOut(): Promise<Project> {
  const bare = projectSchema.parse({
    format: 'clothlay-project',
    version: 2,
    name: 'Tool pouch',
    pieces: [
      {
        id: 'flap',
        name: 'Flap',
        outline: [
          [0, 0],
          [100, 0],
          [80, 60],
          [0, 60],
        ],
      },
      { id: 'tab', name: 'Tab', outline: box(40, 20) },
      { id: 'left', name: 'Left part', outline: box(90, 60) },
      { id: 'right', name: 'Right part', outline: box(90, 60) },
      { id: 'half', name: 'Half back', outline: box(80, 90), foldEdge: 3 },
    ],
    materials: [
      { id: 'main', name: 'Canvas' },
      { id: 'fusible', name: 'Fusible', role: 'interfacing' },
    ],
    cutList: [
      { pieceId: 'flap', materialId: 'main', plain: 2, mirrored: 1 },
      { pieceId: 'tab', materialId: 'main', plain: 3, mirrored: 0 },
      { pieceId: 'half', materialId: 'main', plain: 0, mirrored: 0, onFold: 1 },
      { pieceId: 'flap', materialId: 'fusible', plain: 1, mirrored: 0 },
    ],
    cloths: [
      {
        kind: 'remnant',
        id: 'scrap',
        name: 'Scrap',
        materialId: 'main',
        outline: box(220, 90),
        turn: 'quarter',
      },
      {
        kind: 'roll',
        id: 'roll',
        name: 'Roll',
        materialId: 'main',
        widthMm: 400,
        turn: 'quarter',
        reversible: true,
      },
      { kind: 'roll', id: 'fuse', name: 'Fusible roll', materialId: 'fusible', widthMm: 300 },
    ],
    layChoices: [{ materialId: 'main', clothIds: ['scrap', 'roll'], spread: 'single' }],
    plans: [],
  });
  const [left, right] = ['left', 'right'].map((id) => bare.pieces.find((piece) => piece.id === id)!);
  const at = { first: { edge: 1, edges: 1 }, second: { edge: 3, edges: 1 }, way: 'butt', lapMm: 0 } as const;
  const project = settleProject(joinParts(bare, left!, right!, at, 'A').run(bare));
  const request = layRequestSchema.parse({ project, seconds: 20, maxSteps: 3 });
  const { results } = await runLay(request, solveChecked, () => {}, new AbortController().signal);
  return project.materials.reduce(
    (current, { id, name }) =>
      recordOfRun(id, name, { results, isDone: true }, materialMark(current, id), '2026-01-01')(current),
    project,
  );
}

const number = fc.integer({ min: 0, max: 400 });
const oneOf = (moves: readonly unknown[]) => {
  const from = MOVES.indexOf(moves[0] as Move);
  return fc.integer({ min: from, max: from + moves.length - 1 });
};
/** A third of the steps is work by hand, which needs some of its own in a row. */
const move = fc.oneof(
  { weight: 5, arbitrary: oneOf(BASIC_MOVES) },
  { weight: 5, arbitrary: oneOf(FURTHER_MOVES) },
  { weight: 5, arbitrary: oneOf(HAND_MOVES) },
  {
    weight: 1,
    arbitrary: fc.integer({ min: MOVES.length, max: MOVES.length + AMENDMENTS.length - 1 }),
  },
);
const step = fc.tuple(move, number, number, number);
const walk = fc.array(step, { maxLength: 60 });
type Step = readonly [move: number, a: number, b: number, c: number];

describe('a maker who does anything in any order', () => {
  let laid: Project;
  beforeAll(async () => {
    laid = await laidOut();
    expect(laid.plans.map(({ results }) => results.length)).toEqual([2, 1]);
  });
  const starts = (): [string, Project][] => [
    ['from nothing', emptyProject('Test', 'cm')],
    ['from layouts', laid],
  ];
  /** Names of the commands that changed something, over all walks. */
  const done = new Set<string>();

  /** @returns what was written into every snapshot, or whether a command changed something */
  function does(maker: Maker, [move, a, b, c]: Step): ((project: Project) => Project) | boolean {
    const amendment = AMENDMENTS[move - MOVES.length]?.(a);
    if (amendment) {
      maker.receives(amendment);
      return amendment;
    }
    const command = MOVES[move]!(maker.project, a, b, c);
    const before = maker.project;
    if (command) maker.pauses().does(command);
    if (command && maker.project !== before) done.add(command.name);
    return maker.project !== before;
  }

  it('always has a document that the schema accepts, with no id that points nowhere', () => {
    for (const [name, start] of starts()) {
      fc.assert(
        fc.property(walk, (steps) => {
          const maker = new Maker(start);
          for (const step of steps) does(maker, step);
          const { project } = maker;
          expectValid(project);
          expect(danglingIds(project), name).toEqual([]);
          // All that follows has followed.
          expect(settleProject(project)).toBe(project);
          // No cell is written twice: the totals would count it twice.
          expect(new Set(project.cutList.map((row) => `${row.pieceId} ${row.materialId}`)).size).toBe(
            project.cutList.length,
          );
        }),
        { numRuns: 150 },
      );
    }
  }, 120_000);

  it('gets every earlier document back by undo, and every later one by redo, with what is never undone', () => {
    for (const [, start] of starts()) {
      fc.assert(
        fc.property(walk, (steps) => {
          const maker = new Maker(start);
          let seen = [maker.project];
          for (const step of steps) {
            const outcome = does(maker, step);
            if (typeof outcome === 'function') seen = seen.map(outcome);
            else if (outcome) seen.push(maker.project);
          }
          for (const document of seen.toReversed()) {
            expect(maker.project).toEqual(document);
            maker.undoes();
          }
          maker.redoes(seen.length);
          expect(maker.project).toEqual(seen.at(-1));
        }),
        { numRuns: 75 },
      );
    }
  }, 120_000);

  it('has every step kept as a patch that leads there and back', () => {
    for (const [, start] of starts()) {
      fc.assert(
        fc.property(walk, (steps) => {
          const maker = new Maker(start);
          for (const step of steps) {
            const before = maker.project;
            does(maker, step);
            expect(apply(before, diff(before, maker.project))).toEqual(maker.project);
            expect(apply(maker.project, diff(maker.project, before))).toEqual(before);
          }
        }),
        { numRuns: 25 },
      );
    }
  }, 120_000);

  it('has on long walks done everything that can be done', () => {
    fc.assert(
      fc.property(fc.array(step, { minLength: 300, maxLength: 300 }), (steps) => {
        const maker = new Maker(laid);
        for (const one of steps) does(maker, one);
        expectValid(maker.project);
      }),
      { numRuns: 24, endOnFailure: true },
    );
    expect(COMMAND_NAMES.filter((name) => !done.has(name))).toEqual([]);
  });
});
