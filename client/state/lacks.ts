import {
  checkProject,
  copiesOf,
  handWarnings,
  setsTimes,
  sizingNotices,
} from '../../pattern/cutList/index.ts';
import type { Notice } from '../../pattern/exchange/lay.ts';
import type { Cloth, CutRow, Piece, Project } from '../../pattern/exchange/project.ts';
import { anchorsOf } from '../../pattern/lay/anchors.ts';
import { type AskedOfCloth, clothFaults } from '../../pattern/lay/clothFaults.ts';
import { matchFaultInWords } from '../../pattern/lay/inWords.ts';
import { piecesWithoutPlace } from '../../pattern/lay/noPlace.ts';
import { openJointNotices } from '../../pattern/parts/index.ts';
import { variantFault } from '../../pattern/variants/index.ts';
import { language } from '../strings/index.ts';
import { type Cure, cureOf } from './cures.ts';
import { currentPlan, isOutOfDate, materialsToCut } from './layCommands.ts';
import { pieceFacts, problemsIn } from './pieceFacts.ts';
import type { StepName } from './route.ts';

/** Something a step still lacks, with where to go to settle it. */
export interface Lack {
  readonly kind:
    | 'noPieces'
    | 'pieceFaulty'
    | 'noMaterials'
    | 'notCut'
    | 'told'
    | 'noCloth'
    | 'notLaid'
    | 'outOfDate'
    | 'unplaced';
  /** Names of pieces, for the words. */
  readonly pieces: readonly string[];
  readonly material?: string;
  /** For `pieceFaulty` and `told`: the sentence itself. */
  readonly text?: string;
  readonly goTo: Cure;
}

type Lacks = Readonly<Record<StepName, readonly Lack[]>>;

/** Documents are immutable, so what one lacks is worked out once. */
const known = new WeakMap<Project, Lacks>();
const knownHands = new WeakMap<Project, readonly Notice[]>();

/** What each step lacks. A step with an empty list is settled. */
export function lacksOf(project: Project): Lacks {
  let lacks = known.get(project);
  if (!lacks) {
    lacks = {
      pieces: pieceLacks(project),
      cutlist: cutListLacks(project),
      cloths: clothLacks(project),
      plan: planLacks(project),
      cut: [],
    };
    known.set(project, lacks);
  }
  return lacks;
}

/** What is odd about the hands of single cells of the cut list. */
export function handNotices(project: Project): readonly Notice[] {
  let notices = knownHands.get(project);
  if (!notices) {
    const rowsOf = new Map<string, CutRow[]>();
    for (const row of project.cutList) {
      const rows = rowsOf.get(row.pieceId);
      if (rows) rows.push(row);
      else rowsOf.set(row.pieceId, [row]);
    }
    notices = project.pieces.flatMap((piece) => noticesOf(project, piece, rowsOf.get(piece.id) ?? []));
    knownHands.set(project, notices);
  }
  return notices;
}

interface KnownRows {
  readonly rows: readonly CutRow[];
  readonly materials: Project['materials'];
  readonly cloths: Project['cloths'];
  readonly notices: readonly Notice[];
}

/** By piece, since telling whether a piece is its own mirror image takes a while and one edit concerns one piece. */
const knownRows = new WeakMap<Piece, KnownRows>();

function noticesOf(project: Project, piece: Piece, rows: readonly CutRow[]): readonly Notice[] {
  const { materials, cloths } = project;
  const before = knownRows.get(piece);
  const isSame =
    before?.materials === materials &&
    before.cloths === cloths &&
    before.rows.length === rows.length &&
    before.rows.every((row, index) => row === rows[index]);
  if (isSame) return before.notices;
  const notices = handWarnings({ ...project, pieces: [piece], cutList: rows }, language);
  knownRows.set(piece, { rows, materials, cloths, notices });
  return notices;
}

function pieceLacks(project: Project): Lack[] {
  if (project.pieces.length === 0) {
    return [{ kind: 'noPieces', pieces: [], goTo: { step: 'pieces', open: null, at: 'ways' } }];
  }
  const faulty = project.pieces.flatMap((piece): Lack[] => {
    const stuck = variantFault(project, piece, language);
    const [problem] = problemsIn(piece, project.units);
    const text = stuck === null ? (problem?.text ?? '') : capital(stuck);
    const code = stuck === null ? (problem?.code ?? 'pieceFaulty') : 'variantStuck';
    const goTo = cureOf({ code, pieceId: piece.id }, project);
    const isLacking = stuck !== null || pieceFacts(piece).isFaulty;
    return isLacking ? [{ kind: 'pieceFaulty', pieces: [piece.name], text, goTo }] : [];
  });
  const parts = openJointNotices(project, language).map((notice) => told(notice, project));
  return [...faulty, ...parts];
}

const capital = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;

function cutListLacks(project: Project): Lack[] {
  const here = { step: 'cutlist', open: null, at: 'counts' } as const;
  if (project.materials.length === 0 && project.pieces.length > 0) {
    return [{ kind: 'noMaterials', pieces: [], goTo: here }];
  }
  const cut = new Set(project.cutList.filter((row) => copiesOf(row) > 0).map((row) => row.pieceId));
  // A piece that was split is kept, with its counts moved to the halves.
  const listed = new Set(project.cutList.map((row) => row.pieceId));
  const isSplit = ({ id, turnsOver }: Piece): boolean => turnsOver === true && listed.has(id);
  const notCut = project.pieces
    .filter((piece) => !cut.has(piece.id) && !isSplit(piece))
    .map((piece) => piece.name);
  const hands = handNotices(project).filter((notice) => notice.level !== 'info');
  return [
    ...(notCut.length > 0 ? [{ kind: 'notCut', pieces: notCut, goTo: here } as const] : []),
    ...hands.map((notice) => told(notice, project)),
    ...sizingNotices(project, language).map((notice) => told(notice, project)),
  ];
}

function told(notice: Omit<Notice, 'level'>, project: Project): Lack {
  return { kind: 'told', pieces: [], text: notice.text, goTo: cureOf(notice, project) };
}

function clothLacks(project: Project): Lack[] {
  const served = new Set(project.cloths.map((cloth) => cloth.materialId));
  const missing = materialsToCut(project)
    .filter((material) => !served.has(material.id))
    .map(
      (material): Lack => ({
        kind: 'noCloth',
        pieces: [],
        material: material.name,
        goTo: { step: 'cloths', open: null, at: `cloths-${material.id}` },
      }),
    );
  // Only what is wrong with the cloths themselves: the pieces have their own step.
  const faulty = checkProject({ ...project, pieces: [], cutList: [], plans: [] }, language)
    .filter((notice) => notice.clothId !== undefined)
    .map((notice) => told(notice, project));
  // What can be told of settings before anything is packed; what depends on the lay itself is told with it.
  const odd = project.cloths.flatMap((cloth) =>
    clothFaults(cloth, askedOf(project, cloth.materialId), project.units, language)
      .filter(({ level }) => level !== 'info')
      .map((fault) => told({ ...fault, clothId: cloth.id }, project)),
  );
  return [...missing, ...faulty, ...odd, ...matchLacks(project), ...placeLacks(project)];
}

/** What a cloth's settings may be wrong for, as far as it can be told without working out a single shape. */
function askedOf(project: Project, materialId: string): AskedOfCloth[] {
  const sets = setsTimes(project);
  return project.cutList.flatMap((row) => {
    const piece = project.pieces.find(({ id }) => id === row.pieceId);
    if (row.materialId !== materialId || copiesOf(row) === 0 || !piece) return [];
    return [{ piece, demand: { sets, ...(piece.onBorder ? { onBorder: piece.onBorder } : {}) } }];
  });
}

/** Pieces that can lie nowhere on the repeat or border of their cloth. */
function placeLacks(project: Project): Lack[] {
  // A cloth whose settings cannot be has its own word on that.
  const isSound = (cloth: Cloth): boolean =>
    clothFaults(cloth, [], project.units, language).every(({ level }) => level !== 'error');
  return materialsToCut(project).flatMap(({ id }) =>
    piecesWithoutPlace(project, id, language)
      .filter(({ cloth }) => isSound(cloth))
      .map(({ cloth, piece, text }) =>
        told({ code: 'offRepeat', text, clothId: cloth.id, pieceId: piece.id }, project),
      ),
  );
}

/** Seams at which a repeat cannot meet as asked. */
function matchLacks(project: Project): Lack[] {
  const recurring = project.cloths.find(({ repeat }) => repeat !== null);
  if (!recurring || !project.matches?.length) return [];
  return anchorsOf(project).faults.map((fault) =>
    told(
      {
        code: `match.${fault.kind}`,
        text: matchFaultInWords(fault, project, language),
        clothId: recurring.id,
        ...(fault.kind === 'seamUnknown' ? { pieceId: fault.pieceIds[0] } : {}),
      },
      project,
    ),
  );
}

function planLacks(project: Project): Lack[] {
  const served = new Set(project.cloths.map((cloth) => cloth.materialId));
  return materialsToCut(project).flatMap((material): Lack[] => {
    if (!served.has(material.id)) return [];
    const goTo = { step: 'plan', open: null, at: `plan-${material.id}` } as const;
    const common = { pieces: [], material: material.name, goTo };
    const plan = currentPlan(project, material.id);
    if (!plan) return [{ ...common, kind: 'notLaid' }];
    if (isOutOfDate(project, plan, material.id)) return [{ ...common, kind: 'outOfDate' }];
    // A plan without layouts: all its pieces are cut from other materials.
    const isComplete =
      plan.results.length === 0 || plan.results.some((result) => result.unplaced.length === 0);
    return isComplete ? [] : [{ ...common, kind: 'unplaced' }];
  });
}
