import { describe, expect, it } from 'vitest';
import { type ClothLay, clothSchema, type Project } from '../../pattern/exchange/project.ts';
import { type PrintTile, printedStretches } from '../../pattern/output/index.ts';
import { singleLayer, twoSegments } from '../plan/sampleLays.ts';

/** The smallest PNG there is: one pixel. */
const PICTURE =
  'data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==';

function printed(sample: { project: Project; lay: ClothLay }, repeat: object, more: object = {}) {
  const project: Project = {
    ...sample.project,
    cloths: sample.project.cloths.map((cloth) =>
      clothSchema.parse({
        ...cloth,
        printPicture: PICTURE,
        repeat: { alongMm: 100, acrossMm: 60, ...repeat },
        ...more,
      }),
    ),
  };
  return printedStretches(sample.lay, project);
}

/** Upper left corners of all pictures near the origin, over and over as the tile repeats. */
function corners({ x, y, width, height, pictures }: PrintTile): string[] {
  const found = new Set<string>();
  for (let i = -3; i <= 3; i++) {
    for (let j = -3; j <= 3; j++) {
      for (const [px, py] of pictures) found.add(`${x + i * width + px} ${y + j * height + py}`);
    }
  }
  return [...found];
}

describe('the print on a layout', () => {
  it('has the first motif where the cloth says it lies', () => {
    const [stretch] = printed(singleLayer(), { fromEndMm: 70, fromSelvedgeMm: 40 });
    const { tile, height } = stretch!;
    // The motif is the middle of a picture; across is measured upwards from the lower selvedge.
    expect(corners(tile)).toContain(`${70 - 50} ${height - 40 - 30}`);
    expect([tile.width, tile.height]).toEqual([100, 60]);
  });

  it('sets every second column off by half a repeat along, or every second row by half across', () => {
    const drop = corners(printed(singleLayer(), { kind: 'halfDrop' })[0]!.tile);
    const brick = corners(printed(singleLayer(), { kind: 'brick' })[0]!.tile);
    const { tile } = printed(singleLayer(), {})[0]!;
    const at = (dx: number, dy: number) => `${tile.x + dx} ${tile.y + dy}`;
    expect(drop).toContain(at(0, 0));
    expect(drop).toContain(at(50, 60));
    expect(drop).not.toContain(at(0, 60));
    expect(brick).toContain(at(100, 30));
    expect(brick).not.toContain(at(100, 0));
  });

  it('tells the pieces on which it stands on its head', () => {
    const sample = singleLayer();
    const lay: ClothLay = {
      ...sample.lay,
      segments: sample.lay.segments.map((segment) => ({
        ...segment,
        placed: segment.placed.map((placed, i) => ({ ...placed, topDeg: [0, 180, 90, 20][i] ?? 0 })),
      })),
    };
    const [stretch] = printed({ ...sample, lay }, {}, { printUp: 'away' });
    expect(stretch!.pieces.slice(0, 3).map(({ print }) => print)).toEqual(['up', 'upsideDown', 'sideways']);
    expect(printed({ ...sample, lay }, {})[0]!.pieces.every(({ print }) => print === 'unknown')).toBe(true);
  });

  it('leaves out doubled stretches, and cloth without a picture or a lattice', () => {
    const sample = twoSegments();
    const shown = printed(sample, {}).map(({ segment }) => sample.lay.segments[segment]!.spread);
    expect(shown.every((spread) => spread === 'single')).toBe(true);
    expect(printed(singleLayer(), { acrossMm: 0 })).toEqual([]);
    expect(printedStretches(singleLayer().lay, singleLayer().project)).toEqual([]);
  });
});

describe('a picture that is none', () => {
  const cloth = { kind: 'roll', id: 'c', name: 'c', materialId: 'm', widthMm: 1400 };
  it.each([
    'https://example.org/picture.png',
    'data:image/svg+xml;base64,PHN2ZyBvbmxvYWQ9ImFsZXJ0KDEpIi8+',
    'data:text/html;base64,PHNjcmlwdD4=',
    'data:image/png;base64,PHNjcmlwdD4=',
    'data:image/png;base64,iVBORw0KGgo") onload="x',
    `data:image/png;base64,iVBORw0KGgo${'A'.repeat(500_000)}`,
  ])('is refused: %s', (printPicture) => {
    expect(clothSchema.safeParse({ ...cloth, printPicture }).success).toBe(false);
    expect(clothSchema.safeParse({ ...cloth, printPicture: PICTURE }).success).toBe(true);
  });
});
