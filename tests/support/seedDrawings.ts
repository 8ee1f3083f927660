import { readdirSync, readFileSync } from 'node:fs';
import { deflateSync } from 'node:zlib';
import { needsMending, saddleRoll, turnsAndWindows } from '../../fixtures/patterns/draw.ts';
import { box, dxf, line } from '../reading/dxfText.ts';
import { mm, pdf, square } from '../reading/pdfText.ts';
import { sharedFolder } from './sharedFolder.ts';
import { tiledPdf } from './tiledPdf.ts';

export type SeedKind = 'svg' | 'dxf' | 'pdf';

/** A sound file that mutations start from. */
export interface SeedDrawing {
  readonly name: string;
  readonly kind: SeedKind;
  readonly bytes: Uint8Array;
}

/** Drawings of our own in each format, with every part of it that the readers know. */
export function ownSeeds(): SeedDrawing[] {
  const text = (name: string, kind: SeedKind, content: string): SeedDrawing => ({
    name,
    kind,
    bytes: new TextEncoder().encode(content),
  });
  return [
    text('saddle-roll.svg', 'svg', saddleRoll()),
    text('turns-and-windows.svg', 'svg', turnsAndWindows()),
    text('needs-mending.svg', 'svg', needsMending()),
    text('strap.dxf', 'dxf', curvesAndInserts()),
    text('pieces.dxf', 'dxf', pieceBlocks()),
    { name: 'tiles.pdf', kind: 'pdf', bytes: tiles() },
    { name: 'layers.pdf', kind: 'pdf', bytes: layersAndForms() },
  ];
}

/** The published files beside the project, none where they are missing. */
export function publishedSeeds(): SeedDrawing[] {
  const folder = sharedFolder();
  if (folder === null) return [];
  return readdirSync(`${folder}inputs`)
    .filter((name) => /\.(svg|dxf|pdf)$/.test(name))
    .map((name) => ({
      name,
      kind: name.slice(-3) as SeedKind,
      bytes: new Uint8Array(readFileSync(`${folder}inputs/${name}`)),
    }));
}

function curvesAndInserts(): string {
  const buckle = [
    ['CIRCLE', 8, 'hardware', 10, 20, 20, 10, 40, 8],
    ['ARC', 8, 'hardware', 10, 20, 20, 10, 40, 12, 50, 20, 51, 340],
    ['ELLIPSE', 8, 'hardware', 10, 40, 20, 10, 11, 12, 21, 3, 40, 0.5, 41, 0, 42, 6.283185307],
    ...box('hardware', 60, 20),
  ] as const;
  return dxf({
    layers: [
      ['LAYER', 2, 'hardware', 70, 0, 62, 5],
      ['LAYER', 2, 'notes', 70, 0, 62, -1],
    ],
    blocks: {
      BUCKLE: buckle,
      PAIR: [
        ['INSERT', 8, '0', 2, 'BUCKLE', 10, 5, 20, 5],
        ['INSERT', 8, '0', 2, 'BUCKLE', 10, 5, 20, 60, 41, -1, 42, 2, 50, 30],
      ],
    },
    entities: [
      ...box('0', 200, 120),
      ['LWPOLYLINE', 8, '0', 90, 3, 70, 1, 10, 10, 20, 10, 42, 0.5, 10, 60, 20, 10, 10, 60, 20, 60],
      ['POLYLINE', 8, '0', 66, 1, 70, 1],
      ['VERTEX', 8, '0', 10, 80, 20, 20, 42, 1],
      ['VERTEX', 8, '0', 10, 120, 20, 20],
      ['VERTEX', 8, '0', 10, 120, 20, 60],
      ['SEQEND', 8, '0'],
      [
        'SPLINE',
        ...[8, '0', 70, 12, 71, 3, 72, 8, 73, 4, 40, 0, 40, 0, 40, 0, 40, 0, 40, 1, 40, 1, 40, 1, 40, 1],
        ...[41, 1, 41, 2, 41, 0.5, 41, 1, 10, 0, 20, 0, 10, 20, 20, 60, 10, 70, 20, -20, 10, 90, 20, 30],
      ],
      ['INSERT', 8, '0', 2, 'PAIR', 10, 20, 20, 200, 70, 3, 71, 2, 44, 80, 45, 90],
      ['TEXT', 8, 'notes', 10, 30, 20, 70, 40, 6, 1, 'Cut 2 lining'],
      ['MTEXT', 8, '0', 10, 30, 20, 90, 40, 6, 1, '{\\fArial;Side\\Pgusset}'],
      ['POINT', 8, '4', 10, 100, 20, 0],
      line('0', 0, 150, 90, 150.04),
    ],
  });
}

function pieceBlocks(): string {
  const half = [
    ['POLYLINE', 8, '1', 66, 1, 70, 1],
    ['VERTEX', 8, '1', 10, 0, 20, 0],
    ['VERTEX', 8, '1', 10, 140, 20, 0],
    ['VERTEX', 8, '1', 10, 140, 20, 90],
    ['VERTEX', 8, '1', 10, 0, 20, 90],
    ['SEQEND', 8, '1'],
    line('6', 0, 0, 0, 90),
    line('7', 70, 10, 70, 80),
    ['POINT', 8, '4', 10, 140, 20, 45],
    ['CIRCLE', 8, '11', 10, 40, 20, 40, 40, 6],
    ['TEXT', 8, '1', 10, 20, 20, 20, 40, 5, 1, 'Piece Name: FLAP'],
    ['TEXT', 8, '1', 10, 20, 20, 30, 40, 5, 1, 'Quantity: 2'],
  ] as const;
  return dxf({
    header: {},
    blocks: { FLAP: half, BACK: half },
    entities: [
      ['INSERT', 8, '0', 2, 'FLAP', 10, 0, 20, 0],
      ['INSERT', 8, '0', 2, 'BACK', 10, 0, 20, 0],
    ],
  });
}

const tiles = (): Uint8Array =>
  tiledPdf(
    [
      {
        ring: [
          [20, 20],
          [330, 30],
          [340, 480],
          [60, 500],
        ],
      },
      { text: 'Cut 1 on fold', at: [80, 90] },
      { text: 'Test square 5 cm', at: [30, 530] },
    ],
    { columns: 2, rows: 2 },
  );

/** Packed content, a form, a clip, layers, dashes, curves, a picture, a page turned and one in larger units. */
function layersAndForms(): Uint8Array {
  const packed = Buffer.from(
    deflateSync(Buffer.from(`q ${square(10, 10, 40)} Q 0 0 m 10 50 60 50 90 0 c h B /X Do`)),
  ).toString('latin1');
  return pdf({
    pages: [
      {
        content: `${square(10, 10, 50)} q ${mm(0, 0, 90, 90)} re W n /OC /L BDC ${square(80, 20, 50)} EMC Q [4 2] 0 d ${square(30, 30, 9, 'f')}`,
        resources: '/Properties << /L 100 0 R >> /XObject << /X 101 0 R /I 103 0 R >>',
        entries: '/Rotate 90',
      },
      {
        content: `/X Do /I Do BT /F 12 Tf 20 20 Td [(Cut) -300 (2 lining)] TJ T* (Futter) ' ET`,
        resources: '/XObject << /X 102 0 R /I 103 0 R >>',
        entries: '/UserUnit 2 /CropBox [10 10 400 250]',
      },
    ],
    objects: {
      100: ['/Type /OCG /Name (Size 40)', null],
      101: ['/Type /XObject /Subtype /Form /BBox [0 0 300 300] /Matrix [1 0 0.2 1 5 5]', square(5, 5, 20)],
      102: [
        '/Type /XObject /Subtype /Form /BBox [0 0 300 300] /Filter /FlateDecode /Resources << /XObject << /X 101 0 R >> >>',
        packed,
      ],
      103: [
        '/Type /XObject /Subtype /Image /Width 1 /Height 1 /BitsPerComponent 8 /ColorSpace /DeviceGray',
        'x',
      ],
    },
    catalogue: '/OCProperties << /OCGs [100 0 R] /D << /OFF [100 0 R] /Order [100 0 R] >> >>',
  });
}
