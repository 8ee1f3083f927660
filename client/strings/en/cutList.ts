import { many } from './words.ts';

/** The cut list and its materials. */

export const cutList = {
  title: 'Cut list',
  lead: 'How many of each piece, and from which material.',
  empty: 'There are no pieces to count yet.',
  toPieces: 'Go to the pieces',
  piece: 'Piece',
  addMaterial: 'Add a material',
  materialName: 'New material',
  materialPlaceholder: 'e.g. Canvas, lining, foam',
  roles: {
    main: 'main',
    contrast: 'contrast',
    lining: 'lining',
    interfacing: 'interfacing',
    foam: 'foam',
    other: 'other',
  },
  role: 'What it is for',
  roleOf: (name: string) => `What ${name} is for`,
  nameOf: (name: string) => `Name of ${name}`,
  removeMaterial: (name: string) => `Remove ${name}`,
  plain: 'as drawn',
  mirrored: 'mirrored',
  onFold: 'on the fold',
  copies: 'copies',
  countOf: (hand: string, piece: string, material: string) => `${piece} in ${material}: ${hand}`,
  pairs: 'In mirrored pairs',
  pairsOf: (piece: string, material: string) => `${piece} in ${material}: in mirrored pairs`,
  start: 'Cut',
  startOf: (piece: string, material: string) => `Cut ${piece} from ${material}`,
  totals: 'Together',
  totalPieces: (count: number) => many(count, 'piece'),
  totalHands: (plain: number, mirrored: number, onFold: number, either: number) =>
    [
      plain > 0 ? `${plain} as drawn` : '',
      mirrored > 0 ? `${mirrored} mirrored` : '',
      onFold > 0 ? `${onFold} on the fold` : '',
      either > 0 && plain + mirrored + onFold > 0 ? `${either} without left or right` : '',
    ]
      .filter((part) => part !== '')
      .join(', '),
  unpaired: 'hands don’t pair',
  half: 'half piece',
  moveTo: 'Move to …',
  startFrom: 'Cut it from …',
  startFromOf: (piece: string) => `Cut ${piece} from a material`,
  moveOf: (piece: string, material: string) => `Cut ${piece} from another material than ${material}`,
  handsHelpTitle: 'As drawn, mirrored, on the fold',
  handsHelp: [
    'As drawn: the right side of the cloth up, the piece as you see it.',
    'Mirrored: its mirror image, as left and right glove. “Cut 2” of an uneven piece nearly always means one of each: a mirrored pair.',
    'On the fold: a half piece laid on folded cloth, one whole piece from each.',
    'A piece that is its own mirror image needs no hands.',
  ],
};
