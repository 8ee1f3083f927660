import type { Lack } from '../../state/lacks.ts';
import { t } from '../../strings/index.ts';

const MOST_NAMES = 4;

export function lackInWords(lack: Lack): string {
  const piece = lack.pieces[0] ?? '';
  const material = lack.material ?? '';
  switch (lack.kind) {
    case 'noPieces':
      return t.lacks.noPieces;
    case 'pieceFaulty':
      return t.lacks.pieceFaulty(piece, lack.text ?? '');
    case 'noMaterials':
      return t.lacks.noMaterials;
    case 'notCut':
      return t.lacks.notCut(t.common.andMore(lack.pieces, MOST_NAMES));
    case 'told':
      return lack.text ?? '';
    case 'noCloth':
      return t.lacks.noCloth(material);
    case 'notLaid':
      return t.lacks.notLaid(material);
    case 'outOfDate':
      return t.lacks.outOfDate(material);
    case 'unplaced':
      return t.lacks.unplaced(material);
  }
}
