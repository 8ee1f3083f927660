import { ringProblems } from '../../nesting/geometry/validity.ts';
import type { Notice } from '../exchange/lay.ts';
import { type Cloth, LIMITS, type Project } from '../exchange/project.ts';
import { danglingIds, duplicateIds } from '../exchange/references.ts';
import { openJointNotices } from '../parts/openJoints.ts';
import { checkPiece } from '../pieces/index.ts';
import { withoutRepeats } from '../pieces/withoutRepeats.ts';
import { sizeNotices } from '../proposals/sizeMark.ts';
import { formatLength } from '../units/index.ts';
import { variantFault } from '../variants/index.ts';
import { handWarnings } from './hands.ts';
import { allowanceUnknown, pieceIn } from './sizing.ts';
import { copiesOf, totalCopies } from './totals.ts';

/**
 * What stands in the way of a lay, or should be known before: errors first. Looks at the whole project; pieces that are
 * not in the cut list are checked no further.
 */
export function checkProject(project: Project): Notice[] {
  const found = [
    ...duplicateIds(project).map((notice) => ({ ...notice, text: capital(notice.text) })),
    ...danglingIds(project),
    ...checkCounts(project),
    ...checkPieces(project),
    ...checkMaterials(project),
    ...sizingNotices(project),
    ...checkVariants(project),
    ...sizeNotices(project),
    ...openJointNotices(project),
    ...project.cloths.flatMap((cloth) => checkCloth(cloth, project.units)),
    ...handWarnings(project),
  ];
  const rank = { error: 0, warning: 1, info: 2 };
  return found.sort((a, b) => rank[a.level] - rank[b.level]);
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function checkCounts(project: Project): Notice[] {
  const copies = totalCopies(project);
  if (copies === 0) {
    const text =
      project.pieces.length === 0
        ? 'There are no pieces yet.'
        : 'The cut list is empty: say how many of each piece to cut from which material.';
    return [{ level: 'error', code: 'cutListEmpty', text }];
  }
  const found: Notice[] = [];
  if (copies > LIMITS.copies) {
    const text = `The cut list calls for ${copies} copies; at most ${LIMITS.copies} can be laid in one project.`;
    found.push({ level: 'error', code: 'tooManyCopies', text });
  }
  const rows = new Set<string>();
  for (const { pieceId, materialId } of project.cutList) {
    const key = `${pieceId} ${materialId}`;
    if (rows.has(key)) {
      const name = project.pieces.find((piece) => piece.id === pieceId)?.name ?? pieceId;
      const text = `The cut list has two rows for ${name} in the same material.`;
      found.push({ level: 'error', code: 'rowTwice', text, pieceId, materialId });
    }
    rows.add(key);
  }
  return found;
}

function checkPieces(project: Project): Notice[] {
  const cut = new Set(project.cutList.filter((row) => copiesOf(row) > 0).map((row) => row.pieceId));
  return project.pieces.flatMap((piece): Notice[] => {
    if (!cut.has(piece.id)) {
      const text = `${piece.name} is not in the cut list: none will be cut.`;
      return cut.size === 0 ? [] : [{ level: 'info', code: 'pieceNotCut', text, pieceId: piece.id }];
    }
    return checkPiece(piece, project.units).map(({ level, code, text }) => ({
      level,
      code,
      text: `${piece.name}: ${text}`,
      pieceId: piece.id,
    }));
  });
}

function checkMaterials(project: Project): Notice[] {
  return project.materials.flatMap(({ id, name }): Notice[] => {
    if (!project.cutList.some((row) => row.materialId === id && copiesOf(row) > 0)) return [];
    const cloths = project.cloths.filter((cloth) => cloth.materialId === id);
    if (cloths.length === 0) {
      const text = `There is no cloth for ${name} yet.`;
      return [{ level: 'warning', code: 'materialWithoutCloth', text, materialId: id }];
    }
    const choice = project.layChoices.find((entry) => entry.materialId === id);
    if (!choice || choice.clothIds.length > 0) return [];
    const text = `No cloth is chosen for ${name}: it will not be laid.`;
    return [{ level: 'warning', code: 'noClothChosen', text, materialId: id }];
  });
}

/** Pieces that a material can't cut at the size it asks for, or only as they are drawn. */
export function sizingNotices(project: Project): Notice[] {
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
      const text = `${piece.name} in ${material.name}: ${sized.text}.`;
      return [{ level: 'error', code: 'nothingLeftInMaterial', text, pieceId: piece.id, ...about }];
    });
    if (unknown.length === 0) return refused;
    const whose =
      unknown.length === 1
        ? unknown[0]
        : `${unknown.slice(0, 3).join(', ')}${unknown.length > 3 ? ' and more' : ''}`;
    const text = `${material.name} is cut without allowance, but how much of it is in the cut line is not said for ${whose}: cut as drawn.`;
    return [
      ...refused,
      { level: 'warning', code: 'allowanceUnknown', text, pieceId: untold[0]?.id, ...about },
    ];
  });
}

/** Variants that no longer follow because a step does not fit the piece they come from. */
function checkVariants(project: Project): Notice[] {
  return project.pieces.flatMap((piece): Notice[] => {
    const fault = variantFault(project, piece);
    if (fault === null) return [];
    const text = `${piece.name} no longer follows the piece it comes from: ${fault.replace(/\.$/, '')}. It keeps the shape it had.`;
    return [{ level: 'warning', code: 'variantStuck', text, pieceId: piece.id }];
  });
}

function checkCloth(cloth: Cloth, units: Project['units']): Notice[] {
  const about = { materialId: cloth.materialId, clothId: cloth.id };
  if (cloth.kind === 'roll') {
    const lost = 2 * (cloth.selvedgeMm + cloth.edgeMarginMm);
    if (lost < cloth.widthMm) return [];
    const text = `${cloth.name} has no width left: selvedges and margins take ${formatLength(lost, units)} of ${formatLength(cloth.widthMm, units)}.`;
    return [{ level: 'error', code: 'noUsableWidth', text, ...about }];
  }
  return [cloth.outline, ...cloth.flaws].flatMap((ring, index): Notice[] => {
    const which = index === 0 ? 'outline' : `flaw ${index}`;
    const serious = ringProblems(withoutRepeats(ring))[0];
    if (!serious) return [];
    const what = serious.kind === 'self-intersection' ? 'crosses itself' : 'encloses nothing';
    const text = `${cloth.name}: its ${which} ${what}.`;
    return [{ level: 'error', code: 'clothFaulty', text, ...about }];
  });
}
