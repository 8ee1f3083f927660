import type { Concession } from '../../../pattern/enough/index.ts';
import type { Project } from '../../../pattern/exchange/project.ts';
import { t } from '../../strings/index.ts';
import { formatLength } from '../../strings/lengths.ts';

/** A concession as something the maker could do. */
export function concessionInWords(project: Project, concession: Concession): string {
  const say = t.enough.say;
  const length = (mm: number): string => formatLength(mm, project.units);
  const cloth = (id: string): string => project.cloths.find((entry) => entry.id === id)?.name ?? id;
  const piece = (id: string): string => project.pieces.find((entry) => entry.id === id)?.name ?? id;
  const material = (id: string): string => project.materials.find((entry) => entry.id === id)?.name ?? id;
  switch (concession.kind) {
    case 'unfold':
      return say.unfold(cloth(concession.clothId));
    case 'alsoCloth':
      return say.alsoCloth(cloth(concession.clothId));
    case 'gap':
      return concession.toMm === 0
        ? say.noGap(cloth(concession.clothId))
        : say.gap(cloth(concession.clothId), length(concession.toMm));
    case 'margin':
      return concession.toMm === 0
        ? say.noMargin(cloth(concession.clothId))
        : say.margin(cloth(concession.clothId), length(concession.toMm));
    case 'tilt':
      return say.tilt(cloth(concession.clothId), concession.toDeg);
    case 'join':
      return joinInWords(concession.divides, piece(concession.pieceId), concession.allowanceMm, length);
    case 'crosswise':
      return say.crosswise(piece(concession.pieceId));
    case 'otherMaterial':
      return say.otherMaterial(piece(concession.pieceId), material(concession.toMaterialId));
    case 'eitherWay':
      return say.eitherWay(cloth(concession.clothId));
    case 'shorter':
      return say.shorter(piece(concession.pieceId), length(concession.byMm));
  }
}

function joinInWords(
  divides: 'length' | 'width',
  piece: string,
  allowanceMm: number,
  length: (mm: number) => string,
): string {
  const { join, joinWidth, butt, buttWidth } = t.enough.say;
  if (allowanceMm === 0) return (divides === 'length' ? butt : buttWidth)(piece);
  return (divides === 'length' ? join : joinWidth)(piece, length(allowanceMm));
}
