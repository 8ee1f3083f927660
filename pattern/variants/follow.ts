import type { Piece, Project, Variant } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { checkPiece } from '../pieces/checkPiece.ts';
import { StepFault, takeStep } from './steps.ts';
import { stepWords } from './words/index.ts';

/** What a variant takes from the piece it comes from; name, notes and id are its own. */
type Shaped = Pick<
  Piece,
  | 'outline'
  | 'holes'
  | 'marks'
  | 'grainDeg'
  | 'topDeg'
  | 'foldEdge'
  | 'line'
  | 'allowanceMm'
  | 'edgeAllowances'
  | 'corners'
>;

export type WorkedOut =
  | { readonly ok: true; readonly piece: Piece }
  /** `say` gives the rest of a sentence that begins with the piece's name and a colon. */
  | { readonly ok: false; readonly say: (language: Language) => string; readonly step: number };

/** Takes all steps from a piece. Never throws for what a maker may ask. */
export function takeSteps(from: Piece, steps: Variant['steps']): WorkedOut {
  let piece = from;
  for (const [step, next] of steps.entries()) {
    const fault = checkPiece(piece).find((problem) => problem.level === 'error');
    if (fault) {
      const faulty = piece;
      return { ok: false, say: (language) => firstError(faulty, language), step };
    }
    try {
      piece = takeStep(piece, next);
    } catch (error) {
      if (error instanceof StepFault) return { ok: false, say: error.inLanguage, step };
      throw error;
    }
  }
  return { ok: true, piece };
}

function firstError(piece: Piece, language: Language): string {
  return checkPiece(piece, 'cm', language).find((problem) => problem.level === 'error')?.text ?? '';
}

/** Pieces are immutable, so what was worked out from one holds as long as it lives. */
const known = new WeakMap<Piece, Map<string, WorkedOut>>();

function workedOut(from: Piece, steps: Variant['steps']): WorkedOut {
  const found = known.get(from) ?? new Map<string, WorkedOut>();
  known.set(from, found);
  const key = JSON.stringify(steps);
  const result = found.get(key) ?? takeSteps(from, steps);
  found.set(key, result);
  return result;
}

/** Why a variant stands as it did before: its piece is gone, or a step no longer fits it. Null where all is well. */
export function variantFault(
  project: Pick<Project, 'pieces'>,
  piece: Piece,
  language: Language = USUAL_LANGUAGE,
): string | null {
  const words = stepWords(language);
  if (!piece.variant) return null;
  const from = project.pieces.find((entry) => entry.id === piece.variant?.from);
  if (!from) return words.sourceGone;
  if (comesFrom(project.pieces, from, piece.id)) return words.fromItself;
  const result = workedOut(from, piece.variant.steps);
  return result.ok ? null : result.say(language);
}

/** Whether a piece comes, over any number of variants, from the one with this id. */
export function comesFrom(pieces: readonly Piece[], piece: Piece, id: string): boolean {
  const seen = new Set<string>();
  let at: Piece | undefined = piece;
  while (at?.variant && !seen.has(at.id)) {
    seen.add(at.id);
    const { from }: Variant = at.variant;
    if (from === id) return true;
    at = pieces.find((entry) => entry.id === from);
  }
  return piece.id === id;
}

/**
 * The project with every variant worked out anew from the piece it comes from, variants of variants too. One that
 * can't be worked out keeps the shape it has. The same object comes back where nothing changed.
 */
export function followVariants(project: Project): Project {
  if (!project.pieces.some((piece) => piece.variant)) return project;
  const byId = new Map(project.pieces.map((piece) => [piece.id, piece]));
  const settled = new Map<string, Piece>();
  const settle = (piece: Piece, under: readonly string[]): Piece => {
    const done = settled.get(piece.id);
    if (done) return done;
    const source = piece.variant && byId.get(piece.variant.from);
    if (!piece.variant || !source || under.includes(piece.id)) return piece;
    const result = workedOut(settle(source, [...under, piece.id]), piece.variant.steps);
    const next = result.ok ? shapedAs(piece, result.piece) : piece;
    settled.set(piece.id, next);
    return next;
  };
  const pieces = project.pieces.map((piece) => settle(piece, []));
  if (pieces.every((piece, i) => piece === project.pieces[i])) return project;
  return { ...project, pieces, cutList: withFolds(project.cutList, project.pieces, pieces) };
}

function shapedAs(piece: Piece, model: Piece): Piece {
  const shape: Shaped = {
    outline: model.outline,
    holes: model.holes,
    marks: model.marks,
    grainDeg: model.grainDeg,
    topDeg: model.topDeg,
    foldEdge: model.foldEdge,
    line: model.line,
    allowanceMm: model.allowanceMm,
    edgeAllowances: model.edgeAllowances,
    corners: model.corners,
  };
  const keys = Object.keys(shape) as (keyof Shaped)[];
  if (keys.every((key) => isAlike(piece[key], shape[key]))) return piece;
  const { source: _source, edgeAllowances: _edges, corners: _corners, ...own } = piece;
  const { edgeAllowances, corners, ...common } = shape;
  return {
    ...own,
    ...common,
    ...(edgeAllowances ? { edgeAllowances } : {}),
    ...(corners ? { corners } : {}),
  };
}

function isAlike(a: unknown, b: unknown): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}

/** Copies stay in the cut list when a variant gains or loses its fold edge: on the fold, or plain. */
function withFolds(
  cutList: Project['cutList'],
  before: readonly Piece[],
  after: readonly Piece[],
): Project['cutList'] {
  const changed = new Map(
    after.flatMap((piece, i) => {
      const had = before[i]?.foldEdge !== null;
      const has = piece.foldEdge !== null;
      return had === has ? [] : [[piece.id, has] as const];
    }),
  );
  if (changed.size === 0) return cutList;
  return cutList.map((row) => {
    const has = changed.get(row.pieceId);
    if (has === undefined) return row;
    return has
      ? { ...row, onFold: row.onFold + row.plain + row.mirrored, plain: 0, mirrored: 0 }
      : { ...row, plain: row.plain + row.onFold, onFold: 0 };
  });
}
