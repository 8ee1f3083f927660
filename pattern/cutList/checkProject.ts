import { ringProblems } from '../../nesting/geometry/validity.ts';
import type { Notice } from '../exchange/lay.ts';
import { type Cloth, LIMITS, type Project } from '../exchange/project.ts';
import { danglingIds, duplicateIds } from '../exchange/references.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { openJointNotices } from '../parts/openJoints.ts';
import { checkPiece } from '../pieces/index.ts';
import { withoutRepeats } from '../pieces/withoutRepeats.ts';
import { sizeNotices } from '../proposals/sizeMark.ts';
import { formatLength } from '../units/index.ts';
import { variantFault } from '../variants/index.ts';
import { handWarnings } from './hands.ts';
import { allowanceUnknown, pieceIn } from './sizing.ts';
import { copiesOf, totalCopies } from './totals.ts';
import { type CutListWords, cutListWords } from './words/index.ts';

/**
 * What stands in the way of a lay, or should be known before: errors first. Looks at the whole project; pieces that are
 * not in the cut list are checked no further.
 */
export function checkProject(project: Project, language: Language = USUAL_LANGUAGE): Notice[] {
  const words = cutListWords(language);
  const found = [
    ...duplicateIds(project, language),
    ...danglingIds(project, language),
    ...checkCounts(project, words),
    ...checkPieces(project, language),
    ...checkMaterials(project, words),
    ...sizingNotices(project, language),
    ...checkVariants(project, language),
    ...sizeNotices(project, language),
    ...openJointNotices(project, language),
    ...project.cloths.flatMap((cloth) => checkCloth(cloth, project.units, language)),
    ...handWarnings(project, language),
  ];
  const rank = { error: 0, warning: 1, info: 2 };
  return found.sort((a, b) => rank[a.level] - rank[b.level]);
}

function checkCounts(project: Project, words: CutListWords): Notice[] {
  const copies = totalCopies(project);
  if (copies === 0) {
    const text = project.pieces.length === 0 ? words.noPieces : words.empty;
    return [{ level: 'error', code: 'cutListEmpty', text }];
  }
  const found: Notice[] = [];
  if (copies > LIMITS.copies) {
    const text = words.tooMany(copies, LIMITS.copies);
    found.push({ level: 'error', code: 'tooManyCopies', text });
  }
  const rows = new Set<string>();
  for (const { pieceId, materialId } of project.cutList) {
    const key = `${pieceId} ${materialId}`;
    if (rows.has(key)) {
      const name = project.pieces.find((piece) => piece.id === pieceId)?.name ?? pieceId;
      const text = words.rowTwice(name);
      found.push({ level: 'error', code: 'rowTwice', text, pieceId, materialId });
    }
    rows.add(key);
  }
  return found;
}

function checkPieces(project: Project, language: Language): Notice[] {
  const words = cutListWords(language);
  const cut = new Set(project.cutList.filter((row) => copiesOf(row) > 0).map((row) => row.pieceId));
  return project.pieces.flatMap((piece): Notice[] => {
    if (!cut.has(piece.id)) {
      const text = words.notCut(piece.name);
      return cut.size === 0 ? [] : [{ level: 'info', code: 'pieceNotCut', text, pieceId: piece.id }];
    }
    return checkPiece(piece, project.units, language).map(({ level, code, text }) => ({
      level,
      code,
      text: words.about(piece.name, text),
      pieceId: piece.id,
    }));
  });
}

function checkMaterials(project: Project, words: CutListWords): Notice[] {
  return project.materials.flatMap(({ id, name }): Notice[] => {
    if (!project.cutList.some((row) => row.materialId === id && copiesOf(row) > 0)) return [];
    const cloths = project.cloths.filter((cloth) => cloth.materialId === id);
    if (cloths.length === 0) {
      const text = words.noCloth(name);
      return [{ level: 'warning', code: 'materialWithoutCloth', text, materialId: id }];
    }
    const choice = project.layChoices.find((entry) => entry.materialId === id);
    if (!choice || choice.clothIds.length > 0) return [];
    const text = words.noClothChosen(name);
    return [{ level: 'warning', code: 'noClothChosen', text, materialId: id }];
  });
}

/** Pieces that a material can't cut at the size it asks for, or only as they are drawn. */
export function sizingNotices(project: Project, language: Language = USUAL_LANGUAGE): Notice[] {
  const words = cutListWords(language);
  const pieces = new Map(project.pieces.map((piece) => [piece.id, piece]));
  return project.materials.flatMap((material): Notice[] => {
    if (!material.sizing) return [];
    const cut = project.cutList
      .filter((row) => row.materialId === material.id && copiesOf(row) > 0)
      .flatMap((row) => pieces.get(row.pieceId) ?? [])
      .filter((piece) => !checkPiece(piece).some((problem) => problem.level === 'error'));
    const about = { materialId: material.id };
    const untold = cut.filter((piece) => allowanceUnknown(piece, material));
    const unknown = untold.map(({ name }) => name);
    const refused = cut.flatMap((piece): Notice[] => {
      const sized = pieceIn(piece, material);
      if (sized.ok) return [];
      const text = words.nothingLeft(piece.name, material.name);
      return [{ level: 'error', code: 'nothingLeftInMaterial', text, pieceId: piece.id, ...about }];
    });
    if (unknown.length === 0) return refused;
    const whose = words.named(unknown.slice(0, 3), Math.max(0, unknown.length - 3));
    const text = words.allowanceUnknown(material.name, whose);
    return [
      ...refused,
      { level: 'warning', code: 'allowanceUnknown', text, pieceId: untold[0]?.id, ...about },
    ];
  });
}

/** Variants that no longer follow because a step does not fit the piece they come from. */
function checkVariants(project: Project, language: Language): Notice[] {
  return project.pieces.flatMap((piece): Notice[] => {
    const fault = variantFault(project, piece, language);
    if (fault === null) return [];
    const text = cutListWords(language).variantStuck(piece.name, fault.replace(/\.$/, ''));
    return [{ level: 'warning', code: 'variantStuck', text, pieceId: piece.id }];
  });
}

function checkCloth(cloth: Cloth, units: Project['units'], language: Language): Notice[] {
  const words = cutListWords(language);
  const long = (mm: number): string => formatLength(mm, units, language);
  const about = { materialId: cloth.materialId, clothId: cloth.id };
  if (cloth.kind === 'roll') {
    const lost = 2 * (cloth.selvedgeMm + cloth.edgeMarginMm);
    if (lost < cloth.widthMm) return [];
    const text = words.noWidth(cloth.name, long(lost), long(cloth.widthMm));
    return [{ level: 'error', code: 'noUsableWidth', text, ...about }];
  }
  return [cloth.outline, ...cloth.flaws].flatMap((ring, index): Notice[] => {
    const serious = ringProblems(withoutRepeats(ring))[0];
    if (!serious) return [];
    const flaw = index === 0 ? null : index;
    const text = words.clothFaulty(cloth.name, flaw, serious.kind === 'self-intersection');
    return [{ level: 'error', code: 'clothFaulty', text, ...about }];
  });
}
