import { withoutPlace } from '../../nesting/cloth/index.ts';
import type { Cloth, Piece, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { anchorsOf } from './anchors.ts';
import { type CutDemand, demandsFor } from './demands.ts';
import { refusalInWords } from './inWords.ts';
import { spreadingOf } from './spreading.ts';
import { proofInWords } from './verdicts.ts';

/** A piece that can lie nowhere on the repeat or the border of a cloth it is to be cut from, with the reason. */
export interface NoPlace {
  readonly cloth: Cloth;
  readonly piece: Piece;
  readonly text: string;
}

/**
 * Pieces of a material that keep to a repeat or to a border and can lie on none of its cloths, told before anything is
 * packed. What may be joined or come from elsewhere is left to the lay, and so is what is merely too large.
 */
export function piecesWithoutPlace(
  project: Project,
  materialId: string,
  language: Language = USUAL_LANGUAGE,
): NoPlace[] {
  const cloths = project.cloths.filter((cloth) => cloth.materialId === materialId);
  if (!cloths.some(({ repeat, border }) => repeat !== null || border !== null)) return [];
  const { anchors } = anchorsOf(project);
  const isKeeping = ({ id, onBorder }: Piece): boolean =>
    anchors.has(id) || (onBorder !== undefined && cloths.some(({ border }) => border !== null));
  const kept = new Set(project.pieces.filter(isKeeping).map(({ id }) => id));
  const cutList = project.cutList.filter(
    (row) => row.materialId === materialId && kept.has(row.pieceId) && !row.joins && !row.elsewhere?.length,
  );
  if (cutList.length === 0) return [];
  const { demands: keeping } = demandsFor({ ...project, cutList }, materialId, language);
  const refused = cloths.map((cloth) => refusedOn(cloth, keeping, project, language));
  const found = new Map<string, NoPlace>();
  for (const { demand, piece } of keeping) {
    const reasons = refused.map((reasons) => reasons.get(demand.id));
    const first = reasons.findIndex((reason) => reason != null);
    if (first >= 0 && reasons.every((reason) => reason !== undefined) && !found.has(piece.id))
      found.set(piece.id, { cloth: cloths[first]!, piece, text: reasons[first]! });
  }
  return [...found.values()];
}

/** Demands that a cloth has no place for, by id; null where the reason is another than its repeat or border. */
function refusedOn(
  cloth: Cloth,
  demands: readonly CutDemand[],
  project: Project,
  language: Language,
): ReadonlyMap<string, string | null> {
  const telling = { units: project.units, language };
  const spreading = spreadingOf(cloth, demands, 'single');
  const reasons = new Map<string, string | null>();
  for (const refusal of spreading?.refusals ?? []) {
    const cut = demands.find(({ demand }) => demand.id === refusal.demand)!;
    const isOfRepeat = refusal.offRepeat === true;
    reasons.set(refusal.demand, isOfRepeat ? refusalInWords(refusal, cut, cloth, telling) : null);
  }
  for (const { problem, meanings } of cloth.kind === 'remnant' ? (spreading?.stretches ?? []) : []) {
    for (const proof of withoutPlace(problem)) {
      const { demand } = meanings.find(({ item }) => item === proof.items[0])!;
      const isOfRepeat = proof.kind === 'no-pose';
      reasons.set(demand, isOfRepeat ? proofInWords(proof, spreading!, demands, telling, cloth) : null);
    }
  }
  return reasons;
}
