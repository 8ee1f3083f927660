import type {
  Corners,
  CutRow,
  Joins,
  Material,
  Piece,
  Project,
  Variant,
} from '../../pattern/exchange/project.ts';
import { pieceFromRectangle, resizeRectangle } from '../../pattern/measurements/index.ts';
import { type Measures, reshaped } from '../../pattern/shapes/index.ts';
import { type Command, type CommandName, replaceById } from './command.ts';
import { freshId } from './ids.ts';

/** Counts for one cell of the cut list. */
export interface Counts {
  readonly plain: number;
  readonly mirrored: number;
  readonly onFold: number;
}

/** A rectangle known by its measurements, ready to join the project. */
export interface MeasuredDraft {
  readonly name: string;
  readonly alongMm: number;
  readonly acrossMm: number;
  readonly counts: Counts;
  /** The rectangle is half of the piece: its left side lies on a fold. */
  readonly isHalf?: boolean;
  /** A material's name, new or known (case and outer spaces don't matter); empty for none yet. */
  readonly material: string;
  /** What else is cut of it from other materials. */
  readonly more?: DrawnDraft['more'];
}

/** A piece read from a drawing, with the counts it starts with. */
export interface DrawnDraft {
  readonly piece: Piece;
  readonly counts: Counts;
  readonly material: string;
  /** What else is cut of it from other materials. */
  readonly more?: readonly { readonly counts: Counts; readonly material: string }[];
  /** How it may be joined from shorter lengths, if it may. */
  readonly joins?: Joins;
}

const pieceName = (project: Project, id: string): string =>
  project.pieces.find((piece) => piece.id === id)?.name ?? '';

/** Rectangle with its lower left corner at the origin. */
export function rectangleOutline(widthMm: number, heightMm: number): Piece['outline'] {
  return [
    [0, 0],
    [widthMm, 0],
    [widthMm, heightMm],
    [0, heightMm],
  ];
}

/**
 * Adds measured rectangles, their counts and the materials named for the first time, as one step.
 * @param sizes whether the measures have the seam allowance in them (`cut`), or it comes on top (`sew`), in mm
 */
export function addMeasuredPieces(
  drafts: readonly MeasuredDraft[],
  sizes: Pick<Piece, 'line' | 'allowanceMm'> = { line: 'cut', allowanceMm: 0 },
): Command {
  const allowance = sizes.line === 'sew' ? { line: sizes.line, allowanceMm: sizes.allowanceMm } : {};
  const ready = drafts.map((draft) => ({
    material: draft.material,
    counts: draft.counts,
    piece: { ...measuredPiece(draft), ...allowance },
    ...(draft.more ? { more: draft.more } : {}),
  }));
  return addDrafts(ready);
}

function measuredPiece({ name, acrossMm, alongMm, isHalf = false }: MeasuredDraft): Piece {
  return pieceFromRectangle({ id: freshId('piece'), name, acrossMm, alongMm, onFold: isHalf });
}

export function addDrawnPieces(drafts: readonly DrawnDraft[]): Command {
  return addDrafts(drafts);
}

function addDrafts(drafts: readonly DrawnDraft[]): Command {
  const rowsOf = ({ counts, material, more = [] }: DrawnDraft) => [{ counts, material }, ...more];
  const newIds = drafts.map((draft) => rowsOf(draft).map(() => freshId('material')));
  const only = drafts.length === 1 ? drafts[0] : undefined;
  return {
    name: 'addPieces',
    subject: only ? only.piece.name : String(drafts.length),
    run: (project) => {
      if (drafts.length === 0) return project;
      const materials: Material[] = [...project.materials];
      const rows: CutRow[] = [...project.cutList];
      drafts.forEach((draft, index) => {
        const { piece, joins } = draft;
        rowsOf(draft).forEach(({ counts, material }, row) => {
          const wanted = material.trim();
          if (wanted === '') return;
          let known = materials.find((entry) => sameName(entry.name, wanted));
          if (!known) {
            known = { id: newIds[index]?.[row] ?? '', name: wanted, role: guessRole(wanted, materials) };
            materials.push(known);
          }
          if (counts.plain + counts.mirrored + counts.onFold > 0) {
            rows.push({ pieceId: piece.id, materialId: known.id, ...counts, ...(joins ? { joins } : {}) });
          }
        });
      });
      return {
        ...project,
        pieces: [...project.pieces, ...drafts.map((draft) => draft.piece)],
        materials,
        cutList: rows,
      };
    },
  };
}

function sameName(a: string, b: string): boolean {
  return a.trim().toLocaleLowerCase() === b.trim().toLocaleLowerCase();
}

/** A material's role by its name, where the name says it; the first one with no such word is the main one. */
export function guessRole(name: string, materials: readonly Material[]): Material['role'] {
  const word = name.toLocaleLowerCase();
  if (/lining|futter/.test(word)) return 'lining';
  if (/foam|wadding|batting|schaum|volumen/.test(word)) return 'foam';
  if (/interfac|stabili|fusible|vlie|einlage/.test(word)) return 'interfacing';
  if (/contrast|trim|accent/.test(word)) return 'contrast';
  if (/strap|webbing|binding/.test(word)) return 'other';
  return materials.some((material) => material.role === 'main') ? 'contrast' : 'main';
}

function changePiece(
  name: CommandName,
  piece: Pick<Piece, 'id' | 'name'>,
  change: (piece: Piece) => Piece,
  together?: string,
): Command {
  return {
    name,
    subject: piece.name,
    ...(together === undefined ? {} : { together }),
    run: (project) => {
      const pieces = replaceById(project.pieces, piece.id, change);
      return pieces === project.pieces ? project : { ...project, pieces };
    },
  };
}

export function renamePiece(piece: Piece, name: string): Command {
  return changePiece(
    'renamePiece',
    piece,
    (old) => (old.name === name ? old : { ...old, name }),
    `name ${piece.id}`,
  );
}

/** A grain line has no ends: kept in [0, 180) with two decimals. */
function tidyGrain(degrees: number): number {
  return (Math.round((((degrees % 180) + 180) % 180) * 100) / 100) % 180;
}

/** Keeps an angle in (−180, 180] with two decimals. */
function tidyAngle(degrees: number): number {
  const turned = ((degrees % 360) + 360) % 360;
  const half = turned > 180 ? turned - 360 : turned;
  return Math.round(half * 100) / 100;
}

export function turnGrain(piece: Piece, degrees: number, together?: string): Command {
  const grainDeg = tidyGrain(degrees);
  return changePiece(
    'turnGrain',
    piece,
    (old) => (old.grainDeg === grainDeg ? old : { ...old, grainDeg }),
    together,
  );
}

/** How the piece's grain line lies, where that differs from what the cloth says. */
export function changeLie(piece: Piece, lie: Piece['lie']): Command {
  return changePiece('turnGrain', piece, ({ lie: before, ...old }) =>
    lie === undefined ? old : { ...old, lie },
  );
}

export function turnTop(piece: Piece, degrees: number): Command {
  const topDeg = tidyAngle(degrees);
  return changePiece('turnTop', piece, (old) => (old.topDeg === topDeg ? old : { ...old, topDeg }));
}

/**
 * Puts an edge of the outline on the fold, or none. Whole pieces counted on the fold of a piece that no longer
 * has one are counted as plain copies, so that no piece is lost from the cut list.
 */
export function setFold(piece: Piece, foldEdge: number | null): Command {
  return {
    name: 'setFold',
    subject: piece.name,
    run: (project) => {
      const pieces = replaceById(project.pieces, piece.id, (old) =>
        old.foldEdge === foldEdge ? old : { ...old, foldEdge },
      );
      if (pieces === project.pieces) return project;
      const cutList =
        foldEdge === null
          ? project.cutList.map((row) =>
              row.pieceId === piece.id && row.onFold > 0
                ? { ...row, plain: row.plain + row.onFold, onFold: 0 }
                : row,
            )
          : project.cutList.map((row) =>
              row.pieceId === piece.id && row.plain + row.mirrored > 0 && row.onFold === 0
                ? { ...row, onFold: row.plain + row.mirrored, plain: 0, mirrored: 0 }
                : row,
            );
      return { ...project, pieces, cutList };
    },
  };
}

export function setLine(piece: Piece, line: Piece['line']): Command {
  return changePiece('setLine', piece, (old) => (old.line === line ? old : { ...old, line }));
}

export function setAllowance(piece: Piece, allowanceMm: number): Command {
  return changePiece('setAllowance', piece, (old) =>
    old.allowanceMm === allowanceMm ? old : { ...old, allowanceMm },
  );
}

/** New measurements for a measured rectangle. Pieces from a drawing stay as they are. */
export function resizePiece(piece: Piece, alongMm: number, acrossMm: number): Command {
  return changePiece('resizePiece', piece, (old) => resizeRectangle(old, alongMm, acrossMm));
}

/** The other side along the grain: measurements are exchanged; a drawing has its grain turned by 90°. */
function swapped(piece: Piece): Piece {
  if (piece.source?.kind === 'measured') {
    return resizeRectangle(piece, piece.source.acrossMm, piece.source.alongMm);
  }
  return { ...piece, grainDeg: tidyGrain(piece.grainDeg + 90) };
}

export function swapGrain(piece: Piece): Command {
  return changePiece('swapGrain', piece, swapped);
}

export function swapAllGrains(ids: readonly string[]): Command {
  const chosen = new Set(ids);
  return {
    name: 'swapAllGrains',
    subject: String(ids.length),
    run: (project) =>
      project.pieces.some((piece) => chosen.has(piece.id))
        ? {
            ...project,
            pieces: project.pieces.map((piece) => (chosen.has(piece.id) ? swapped(piece) : piece)),
          }
        : project,
  };
}

export function removeHole(piece: Piece, index: number): Command {
  return changePiece('removeHole', piece, (old) =>
    index in old.holes ? { ...old, holes: old.holes.filter((_, at) => at !== index) } : old,
  );
}

/** Puts the mended piece in the place of the faulty one. */
export function mendOutline(piece: Piece, mended: Piece): Command {
  return changePiece('mendPiece', piece, () => mended);
}

export function notePiece(piece: Piece, notes: string): Command {
  return changePiece(
    'notePiece',
    piece,
    (old) => (old.notes === notes ? old : { ...old, notes }),
    `notes ${piece.id}`,
  );
}

/** A copy of the piece under a new name, with the same counts. */
export function copyPiece(piece: Piece, name: string): Command & { readonly id: string } {
  const id = freshId('piece');
  return {
    id,
    name: 'copyPiece',
    subject: piece.name,
    run: (project) => {
      const at = project.pieces.findIndex((entry) => entry.id === piece.id);
      const original = project.pieces[at];
      if (!original) return project;
      const rows = project.cutList
        .filter((row) => row.pieceId === piece.id)
        .map((row) => ({ ...row, pieceId: id }));
      return {
        ...project,
        pieces: project.pieces.toSpliced(at + 1, 0, { ...original, id, name }),
        cutList: [...project.cutList, ...rows],
      };
    },
  };
}

/** Takes pieces out of the project and out of the cut list. Their variants stay, each on its own. */
export function removePieces(project: Project, ids: readonly string[]): Command {
  const gone = new Set(ids);
  return {
    name: 'removePieces',
    subject: ids.length === 1 ? pieceName(project, ids[0] ?? '') : String(ids.length),
    run: (current) =>
      current.pieces.some((piece) => gone.has(piece.id))
        ? {
            ...current,
            pieces: current.pieces
              .filter((piece) => !gone.has(piece.id))
              .map((piece) => (piece.variant && gone.has(piece.variant.from) ? onItsOwn(piece) : piece)),
            cutList: current.cutList.filter((row) => !gone.has(row.pieceId)),
          }
        : current,
  };
}

function onItsOwn({ variant: _variant, ...piece }: Piece): Piece {
  return piece;
}

/** A piece worked out from another, standing behind it in the list; not in the cut list yet. */
export function addVariant(
  piece: Piece,
  name: string,
  steps: Variant['steps'],
): Command & { readonly id: string } {
  const id = freshId('piece');
  return {
    id,
    name: 'addVariant',
    subject: piece.name,
    run: (project) => {
      const at = project.pieces.findIndex((entry) => entry.id === piece.id);
      const original = project.pieces[at];
      if (!original) return project;
      const { source: _source, openJoints: _open, madeOf: _parts, ...shape } = original;
      const variant: Piece = { ...shape, id, name, notes: '', variant: { from: piece.id, steps } };
      return { ...project, pieces: project.pieces.toSpliced(at + 1, 0, variant) };
    },
  };
}

/** Other steps from the piece a variant comes from. */
export function changeVariant(piece: Piece, steps: Variant['steps'], together?: string): Command {
  return changePiece(
    'changeVariant',
    piece,
    (old) => (old.variant ? { ...old, variant: { ...old.variant, steps } } : old),
    together,
  );
}

/** The variant keeps its shape and no longer follows. */
export function detachVariant(piece: Piece): Command {
  return changePiece('detachVariant', piece, (old) => (old.variant ? onItsOwn(old) : old));
}

export function setCorners(piece: Piece, corners: Corners): Command {
  return changePiece('setCorners', piece, (old) =>
    (old.corners ?? 'mitred') === corners ? old : { ...old, corners },
  );
}

/** An allowance of its own for one edge; null gives it the piece's again. */
export function setEdgeAllowance(piece: Piece, edge: number, mm: number | null): Command {
  return changePiece('setEdgeAllowance', piece, ({ edgeAllowances = [], ...old }) => {
    const others = edgeAllowances.filter((entry) => entry.edge !== edge);
    const next = mm === null ? others : [...others, { edge, mm }].sort((a, b) => a.edge - b.edge);
    return next.length > 0 ? { ...old, edgeAllowances: next } : old;
  });
}

/** Other measures for a piece by formula. Measures that make no shape leave it as it is. */
export function remeasure(piece: Piece, measures: Measures): Command {
  return changePiece('resizePiece', piece, (old) => {
    try {
      return reshaped(old, measures);
    } catch (error) {
      if (error instanceof RangeError) return old;
      throw error;
    }
  });
}
