import { describe, expect, it } from 'vitest';
import type { DesignerTable } from '../../pattern/exchange/designerTable.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import {
  designerSheets,
  labelSheets,
  labelsFor,
  orderSheets,
  planSheets,
  projectorPieceSheets,
  type Sheet,
  shoppingList,
  shoppingSheets,
  tickSheets,
} from '../../pattern/output/index.ts';
import { flatItems } from '../../pattern/plan/index.ts';
import { drawingToSvg } from '../../pattern/plan/svg.ts';
import { textWidth } from '../../pattern/plan/text.ts';
import { singleLayer, twoSegments } from '../plan/sampleLays.ts';

const NAMES = {
  'of 5 000 letters': 'Saddle bag side '.repeat(313),
  'of 5 000 letters without a blank': 'x'.repeat(5000),
  'written right to left': 'לוח צד שמאלי גדול מאוד של תיק האופניים',
  'with markup': '</text><script>alert(1)</script><text>&amp;"',
  'with direction overrides and control characters': 'Flap\u202egnirts\u202c\u0000\u001b[31m\nside',
} as const;

function named(name: string) {
  const sample = twoSegments();
  const project: Project = {
    ...sample.project,
    name,
    pieces: sample.project.pieces.map((piece) => ({ ...piece, name })),
    materials: sample.project.materials.map((material) => ({ ...material, name })),
    cloths: sample.project.cloths.map((cloth) => ({ ...cloth, name })),
    cutting: {
      tableMm: 400,
      ticks: [],
      cutBy: [],
      notions: [{ id: 'n', name, amount: name, costCents: 100, bought: false }],
    },
  };
  return { project, lay: { ...sample.lay, verdict: 'fits' as const } };
}

const TABLE = (project: Project): DesignerTable => ({
  request: {
    widthsMm: [900],
    naps: ['none', 'oneWay'],
    spreads: ['single', 'folded', 'middle'],
    sizes: [{ name: project.name, alongPercent: 100, acrossPercent: 100 }],
    materialIds: [],
    seconds: 1,
    seed: 1,
  },
  madeFrom: 'x',
  cells: [
    {
      materialId: project.materials[0]!.id,
      size: project.name,
      widthMm: 900,
      nap: 'none',
      spread: 'single',
      verdict: 'fits',
      usedMm: 1000,
      buyMm: 1000,
      piecesToTrace: 1,
      costCents: null,
    },
  ],
});

const LABELS = {
  page: 'a4',
  rows: 8,
  columns: 3,
  marginXMm: 8,
  marginYMm: 12,
  gapXMm: 2,
  gapYMm: 0,
  frames: true,
} as const;

const KINDS: Readonly<Record<string, (sample: ReturnType<typeof named>) => Sheet[]>> = {
  plan: ({ lay, project }) => planSheets(lay, project, { page: 'a4', units: 'cm' }),
  'order of cutting': ({ lay, project }) =>
    lay.segments.flatMap((_, i) => orderSheets(lay, project, i, { page: 'letter', units: 'in' })),
  'tick list by material': ({ project }) => tickSheets(project, { page: 'a4', units: 'cm', by: 'material' }),
  'tick list by part': ({ project }) => tickSheets(project, { page: 'letter', units: 'in', by: 'part' }),
  shopping: ({ lay, project }) =>
    shoppingSheets(project, shoppingList(project, [lay]), { page: 'a4', units: 'cm' }),
  'designer’s table': ({ project }) =>
    designerSheets(
      TABLE(project),
      { project: project.name, units: 'cm', materials: project.materials },
      'a4',
    ),
  labels: ({ project }) => labelSheets(labelsFor(project), LABELS),
  projector: ({ project }) =>
    projectorPieceSheets(project.pieces, project, { units: 'cm', mirrored: true, unfold: true }),
};

describe.each(Object.entries(NAMES))('names %s', (_what, name) => {
  it.each(Object.entries(KINDS))('stay on the page: %s', (_kind, make) => {
    const sheets = make(named(name));
    expect(sheets.length).toBeGreaterThan(0);
    for (const { drawing } of sheets) {
      for (const item of flatItems(drawing)) {
        if (item.kind !== 'text' || item.rotation !== 0) continue;
        const width = textWidth(item.text, item.size, item.role);
        const start =
          item.anchor === 'start' ? item.x : item.anchor === 'middle' ? item.x - width / 2 : item.x - width;
        expect([item.text.slice(0, 40), start >= -0.1 && start + width <= drawing.widthMm + 0.1]).toEqual([
          item.text.slice(0, 40),
          true,
        ]);
        // biome-ignore lint/suspicious/noControlCharactersInRegex: those are what must not be there
        expect(item.text).not.toMatch(/[\u0000-\u001f\u202a-\u202e]/);
      }
      expect(drawingToSvg(drawing)).not.toMatch(/<script/i);
    }
  });
});

describe('ordinary names', () => {
  it('are not cut short on any sheet', () => {
    const { project, lay } = singleLayer();
    for (const make of Object.values(KINDS)) {
      const cut = make({ project, lay: { ...lay, verdict: 'fits' } })
        .flatMap(({ drawing }) => flatItems(drawing))
        .flatMap((item) =>
          item.kind === 'text' && item.role !== 'table-head' && item.text.endsWith('…') ? [item.text] : [],
        );
      expect(cut.filter((text) => text !== '…')).toEqual([]);
    }
  });
});
