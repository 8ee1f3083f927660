/** Ways to change a document that need more than a number to begin with: drawn pieces, layouts, offers, the table. */
import { fuseBlocks, unfuseBlocks } from '../../../client/state/blockCommands.ts';
import { addSheets, changeFlaws, changeRoll, reshapeRemnant } from '../../../client/state/clothCommands.ts';
import type { Command } from '../../../client/state/command.ts';
import { setByArea, setSets, takeSets } from '../../../client/state/cutListCommands.ts';
import {
  addNotion,
  changeNotion,
  chooseToCut,
  clearTicks,
  removeNotion,
  setTable,
} from '../../../client/state/cuttingCommands.ts';
import { makeConcession } from '../../../client/state/enoughCommands.ts';
import { renamePlan } from '../../../client/state/layCommands.ts';
import { changeJoint, forgetJoint, joinParts, takeApart } from '../../../client/state/partCommands.ts';
import {
  addDrawnPieces,
  changeLie,
  mendOutline,
  remeasure,
  removeHole,
} from '../../../client/state/pieceCommands.ts';
import {
  newMatch,
  setMatches,
  setMotif,
  setTurnsOver,
  splitPieceOver,
} from '../../../client/state/printCommands.ts';
import {
  joinTheirs,
  noteProject,
  restoreVersion,
  takeTheirs,
} from '../../../client/state/projectCommands.ts';
import { setOffers, takeBasket } from '../../../client/state/shopCommands.ts';
import { settleSize } from '../../../client/state/sizeCommands.ts';
import { emptyProject } from '../../../pattern/exchange/emptyProject.ts';
import { type Piece, type Project, pieceSchema } from '../../../pattern/exchange/project.ts';
import { offerSchema } from '../../../pattern/exchange/schema/offer.ts';
import { basketSchema } from '../../../pattern/exchange/whatToBuy.ts';
import { JointFault } from '../../../pattern/parts/index.ts';
import { box } from '../../support/layOf.ts';
import { type Move, on, pick } from './basicMoves.ts';

const drawn = (n: number): Piece =>
  pieceSchema.parse({
    id: `drawn-${n}`,
    name: `Drawn ${n}`,
    outline: box(100 + n, 60),
    holes: [
      [
        [20, 20],
        [20, 30],
        [30, 20],
      ],
    ],
    source: {
      kind: 'drawing',
      file: 'pouch.svg',
      element: `e${n}`,
      notTrueToSize: { factorX: 1.02, factorY: 1.02 },
    },
    openJoints: [{ edge: n % 4, edges: 1, letter: 'A' }],
  });

/** Where a piece may be made by formula, what it is by formula. */
const circle = (n: number): Piece =>
  pieceSchema.parse({
    id: `circle-${n}`,
    name: `Base ${n}`,
    outline: box(50, 50),
    source: { kind: 'shape', shape: 'circle', measures: { diameter: 50 } },
  });

/** A join that can't be made is refused before it becomes a command. */
function unlessFaulty(make: () => Command): Command | undefined {
  try {
    return make();
  } catch (error) {
    if (error instanceof JointFault || error instanceof RangeError) return undefined;
    throw error;
  }
}

const CONCESSIONS = (p: Project, a: number, b: number) =>
  [
    { kind: 'unfold', clothId: pick(p.cloths, a)?.id ?? '' },
    { kind: 'gap', clothId: pick(p.cloths, a)?.id ?? '', toMm: b % 3 },
    { kind: 'tilt', clothId: pick(p.cloths, a)?.id ?? '', toDeg: 1 },
    { kind: 'crosswise', pieceId: pick(p.pieces, a)?.id ?? '' },
    { kind: 'eitherWay', clothId: pick(p.cloths, a)?.id ?? '' },
    { kind: 'shorter', pieceId: pick(p.pieces, a)?.id ?? '', byMm: b % 9 },
    { kind: 'join', pieceId: pick(p.pieces, a)?.id ?? '', allowanceMm: 10, divides: 'length' },
    {
      kind: 'otherMaterial',
      pieceId: pick(p.pieces, a)?.id ?? '',
      toMaterialId: pick(p.materials, b)?.id ?? '',
    },
  ] as const;

export const FURTHER_MOVES: readonly Move[] = [
  (p, a, b) => {
    const piece = a % 2 === 0 ? drawn(b) : circle(b);
    if (p.pieces.some(({ id }) => id === piece.id)) return undefined;
    return addDrawnPieces([{ piece, counts: { plain: 1, mirrored: 0, onFold: 0 }, material: 'Canvas' }]);
  },
  (p, a, b) => on(pick(p.pieces, a), (piece) => removeHole(piece, b % 2)),
  (p, a, b) =>
    on(pick(p.pieces, a), (piece) => mendOutline(piece, { ...piece, outline: box(30 + b, 40), holes: [] })),
  (p, a, b) => on(pick(p.pieces, a), (piece) => remeasure(piece, { diameter: b })),
  (p, a, b) =>
    on(pick(p.pieces, a), (piece) => changeLie(piece, (['grain', 'bias', undefined] as const)[b % 3])),
  (_p, a) => settleSize('pouch.svg', a % 2 === 0 ? 'correct' : 'leave'),
  (p, a, b) =>
    on(pick(p.pieces, a), (piece) =>
      setMotif(piece, b % 3 === 0 ? undefined : { at: [b, 10], onMotif: [0, 0], toleranceMm: b % 5 }),
    ),
  (p, a, b) => on(pick(p.pieces, a), (piece) => setTurnsOver(piece, b % 2 === 0)),
  (p, a, b) =>
    on(
      pick(p.pieces, a),
      (piece) =>
        splitPieceOver(p, piece, b % 15, { both: 'Halves', front: 'Front', back: 'Back' }) ?? undefined,
    ),
  (p, a, b, c) =>
    on(pick(p.pieces, a), (one) =>
      on(pick(p.pieces, b), (other) => {
        const end = (pieceId: string) => ({ pieceId, edge: c % 4, notch: null });
        return setMatches(one.id === other.id ? [] : [newMatch(end(one.id), end(other.id))]);
      }),
    ),
  (p, a, b, c) =>
    on(pick(p.pieces, a), (first) =>
      on(pick(p.pieces, b), (second) =>
        first.id === second.id || first.variant || second.variant
          ? undefined
          : unlessFaulty(() =>
              joinParts(
                p,
                first,
                second,
                {
                  // Drawn pieces are as wide as each other there; most others are not, and are refused.
                  first: { edge: 1 + 2 * (c % 2), edges: 1 },
                  second: { edge: 3, edges: 1 },
                  way: 'butt',
                  lapMm: 0,
                },
                'A',
              ),
            ),
      ),
    ),
  (p, a, b) =>
    on(
      pick(
        p.pieces.filter(({ madeOf }) => madeOf),
        a,
      ),
      (piece) =>
        unlessFaulty(() => changeJoint(p, piece, 0, { way: b % 2 === 0 ? 'butt' : 'lap', lapMm: b % 12 })),
    ),
  (p, a) =>
    on(
      pick(
        p.pieces.filter(({ madeOf }) => madeOf),
        a,
      ),
      (piece) => takeApart(p, piece) ?? undefined,
    ),
  (p, a) => on(pick(p.pieces, a), (piece) => forgetJoint(piece, 0)),
  (p, a, b) =>
    on(pick(p.materials, a), (material) =>
      setByArea(
        material,
        b % 3 === 0
          ? null
          : { yieldLowPercent: 40, yieldHighPercent: 60, hideMm2: 1e6 + b, priceCentsPerM2: null },
      ),
    ),
  (p, a, b, c) =>
    on(pick(p.materials, a), (material) =>
      on(pick(p.materials, b), (under) =>
        material.id === under.id
          ? undefined
          : fuseBlocks(
              material,
              under,
              [
                {
                  clothId: p.cloths[0]?.id ?? '',
                  alongMm: 100 + c,
                  acrossMm: 80,
                  sets: 1,
                  fromEndMm: 0,
                  fromSelvedgeMm: 0,
                  copies: 1,
                },
              ],
              (number) => `Block ${number}`,
              () => 'fused here',
            ),
      ),
    ),
  (p, a) =>
    on(
      pick(
        p.cutList.filter(({ block }) => block),
        a,
      ),
      ({ materialId, block }) =>
        on(
          p.materials.find(({ id }) => id === materialId),
          (material) =>
            on(
              p.materials.find(({ id }) => id === block?.underId),
              (under) => unfuseBlocks(material, under),
            ),
        ),
    ),
  (_p, a) => takeSets(1 + (a % 4), null, null),
  () => setSets([]),
  (p, a) => on(pick(p.materials, a), (material) => addSheets(material.id, 'Fat quarters', 'fatQuarterMetre')),
  (p, a, b) =>
    on(pick(p.cloths, a), (cloth) =>
      cloth.kind === 'roll'
        ? changeRoll(cloth, { widthMm: 400 + b, fadedLines: [{ fromMm: 10, toMm: 20 }] })
        : reshapeRemnant(cloth, box(100 + b, 90)),
    ),
  (p, a, b) =>
    on(pick(p.cloths, a), (cloth) =>
      changeFlaws(
        cloth,
        b % 2 === 0
          ? []
          : [
              [
                [5, 5],
                [9, 5],
                [9, 9],
              ],
            ],
      ),
    ),
  (p, a, b) =>
    on(pick(p.materials, a), (material) =>
      makeConcession(material.id, pick(CONCESSIONS(p, a, b), b)!, 'as asked'),
    ),
  (p, a, b) =>
    on(pick(p.materials, a), (material) =>
      setOffers(
        material,
        Array.from({ length: b % 3 }, (_, n) =>
          offerSchema.parse({
            kind: 'roll',
            id: `offer-${material.id}-${n}`,
            name: `Shop ${n}`,
            widthMm: 900 + b,
          }),
        ),
      ),
    ),
  (p, a, b) =>
    on(pick(p.materials, a), (material) =>
      on(
        p.cloths.find(({ kind }) => kind === 'roll'),
        (roll) =>
          takeBasket(
            material,
            basketSchema.parse({
              lines: [
                {
                  offerId: `bought-${b}`,
                  clothId: roll.id,
                  name: 'Bought',
                  lengthMm: 1000,
                  spareMm: 0,
                  count: 1,
                  costCents: 0,
                },
              ],
              costCents: 0,
              cloths: [{ ...roll, materialId: material.id }],
              results: [],
            }),
          ),
      ),
    ),
  (p, a, b) => on(pick(p.plans, a), (plan) => renamePlan(plan, `Plan ${b}`)),
  (_p, a) => setTable(a % 4 === 0 ? null : 1000 + a),
  (p, a, b) =>
    on(pick(p.cloths, a), ({ id, materialId, name }) =>
      chooseToCut({ materialId, clothId: id, spread: b % 2 === 0 ? 'single' : 'folded' }, name),
    ),
  (_p, a) => addNotion(`Buckle ${a}`),
  (p, a, b) =>
    on(pick(p.cutting.notions, a), (notion) => changeNotion(notion, { amount: `${b}`, bought: b % 2 === 0 })),
  (p, a) => on(pick(p.cutting.notions, a), removeNotion),
  () => clearTicks(),
  (_p, a) => noteProject(`note ${a}`),
  // What others did, and going back, put a whole document in the place of this one.
  (p, a) => takeTheirs({ ...p, name: `Theirs ${a}` }),
  (p, a) => joinTheirs({ ...p, notes: `joined ${a}` }),
  (p, a) =>
    restoreVersion(a % 5 === 0 ? emptyProject('Long ago', 'cm') : { ...p, name: `Before ${a}` }, 'yesterday'),
];
