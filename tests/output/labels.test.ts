import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import {
  type LabelSheet,
  labelFault,
  labelSheets,
  labelSize,
  labelsFor,
} from '../../pattern/output/index.ts';
import { flatItems } from '../../pattern/plan/index.ts';
import { textWidth } from '../../pattern/plan/text.ts';

const SHEET: LabelSheet = {
  page: 'a4',
  rows: 8,
  columns: 3,
  marginXMm: 7,
  marginYMm: 12,
  gapXMm: 2,
  gapYMm: 0,
  frames: true,
};
const PROJECT = demoProject();

describe('labels', () => {
  it('are one for every cut piece, counted by piece, material and hand', () => {
    const labels = labelsFor(PROJECT);
    expect(labels).toHaveLength(
      PROJECT.cutList.reduce((n, row) => n + row.plain + row.mirrored + row.onFold, 0),
    );
    const gussets = labels.filter(({ name }) => name === 'Side gusset');
    expect(gussets.map(({ hand, copy, of }) => `${hand} ${copy} of ${of}`)).toEqual([
      'plain 1 of 2',
      'plain 2 of 2',
      'mirrored 1 of 2',
      'mirrored 2 of 2',
    ]);
    expect(labelsFor(PROJECT, 'foam').every(({ material }) => material === 'Foam')).toBe(true);
  });

  it('fill sheets row by row, and say what they are', () => {
    const labels = labelsFor(PROJECT);
    const sheets = labelSheets(labels, SHEET);
    expect(sheets).toHaveLength(Math.ceil(labels.length / 24));
    const words = sheets.flatMap(({ drawing }) =>
      flatItems(drawing).flatMap((item) => (item.kind === 'text' ? [item.text] : [])),
    );
    expect(words.filter((text) => text === 'Side gusset')).toHaveLength(4);
    expect(words).toContain('2 of 2 · mirrored');
    expect(words.filter((text) => text === 'top')).toHaveLength(labels.length);
  });

  it('keep every word within its label, whatever the measures and the name', () => {
    const measures = fc.record({
      page: fc.constantFrom('a4', 'letter'),
      rows: fc.integer({ min: 1, max: 22 }),
      columns: fc.integer({ min: 1, max: 7 }),
      marginXMm: fc.integer({ min: 0, max: 15 }),
      marginYMm: fc.integer({ min: 0, max: 15 }),
      gapXMm: fc.integer({ min: 0, max: 5 }),
      gapYMm: fc.integer({ min: 0, max: 5 }),
    });
    const names = fc.constantFrom(
      'Tab',
      'W'.repeat(190),
      'Pocket '.repeat(25).trim(),
      'Base and back in one',
      'כיס קדמי',
    );
    fc.assert(
      fc.property(measures, names, (given, name) => {
        const sheet: LabelSheet = { ...given, frames: false };
        if (labelFault(sheet) !== null) return;
        const { width, height } = labelSize(sheet);
        const label = { name, material: 'Waxed canvas', hand: 'fold', copy: 10, of: 12 } as const;
        const [first] = labelSheets([label], sheet);
        for (const item of flatItems(first!.drawing)) {
          if (item.kind !== 'text') continue;
          const w = textWidth(item.text, item.size, item.role);
          const left = item.anchor === 'middle' ? item.x - w / 2 : item.x;
          expect(left).toBeGreaterThanOrEqual(sheet.marginXMm);
          expect(left + w).toBeLessThanOrEqual(sheet.marginXMm + width + 1e-9);
          expect(item.y - item.size * 0.75).toBeGreaterThanOrEqual(sheet.marginYMm);
          expect(item.y).toBeLessThanOrEqual(sheet.marginYMm + height + 1e-9);
        }
      }),
      { numRuns: 150 },
    );
  });

  it.each([
    ['of one word', 'Reißverschlussblendenverstärkungsstreifen'.repeat(5)],
    ['of many words', 'Front pocket facing with the slanted opening '.repeat(5).trim()],
  ])('bear a very long name %s on two or three lines that can be read, with an ellipsis', (_, name) => {
    const label = { name, material: 'Waxed canvas', hand: 'plain', copy: 1, of: 2 } as const;
    const [first] = labelSheets([label], SHEET);
    const lines = flatItems(first!.drawing).flatMap((item) =>
      item.kind === 'text' && item.role === 'piece-name' && !item.text.startsWith('1 of 2') ? [item] : [],
    );
    expect(lines.length).toBeGreaterThanOrEqual(2);
    expect(lines.length).toBeLessThanOrEqual(3);
    // 16 minutes of arc from 40 cm: ISO 9241-303, from memory; capitals are 0.72 of the size.
    const leastCapitals = 400 * Math.tan(((16 / 60) * Math.PI) / 180);
    for (const { size } of lines) expect(size * 0.72).toBeGreaterThan(leastCapitals);
    const said = lines.map(({ text }) => text);
    expect(said.at(-1)?.endsWith('…')).toBe(true);
    // Nothing of the beginning is lost or turned about.
    expect(name.replaceAll(' ', '')).toContain(said.join('').replaceAll(' ', '').slice(0, -1));
    expect(name.startsWith(said[0]!)).toBe(true);
  });

  it('bear a name whole where breaking a word of it saves that', () => {
    const name = 'Reißverschlussblendenverstärkungsstreifen links';
    const label = { name, material: 'Waxed canvas', hand: 'plain', copy: 1, of: 2 } as const;
    const slips: LabelSheet = { ...SHEET, columns: 5 };
    const [first] = labelSheets([label], slips);
    const words = flatItems(first!.drawing).flatMap((item) =>
      item.kind === 'text' && item.role === 'piece-name' ? [item.text] : [],
    );
    expect(words.join('').replaceAll(' ', '')).toContain(name.replaceAll(' ', ''));
  });

  it('are refused in words where the sheet holds none', () => {
    expect(labelFault(SHEET)).toBeNull();
    expect(labelFault({ ...SHEET, rows: 60 })).toMatch(
      /^This sheet holds no label: .* 4.6 mm\. It needs at least 25 × 12 mm/,
    );
    expect(labelFault({ ...SHEET, marginXMm: 120 })).toContain('no room at all');
    expect(labelFault({ ...SHEET, gapYMm: 200 })).toContain('no room at all');
    expect(() => labelSheets([], { ...SHEET, rows: 60 })).toThrow(RangeError);
  });
});

describe('what a label says beside the piece', () => {
  const labels = labelsFor(demoProject());
  const of = (name: string, material: string) =>
    labels.find((label) => label.name === name && label.material === material);

  it('is which layers are joined to it, on the layer itself nothing', () => {
    expect(of('Body panel', 'Waxed canvas')?.layers).toEqual(['Interfacing']);
    expect(of('Body panel', 'Interfacing')?.layers).toBeUndefined();
    expect(of('Flap', 'Vinyl')?.layers).toBeUndefined();
  });

  it('is which pieces it meets, where that is known', () => {
    const demo = demoProject();
    const project = {
      ...demo,
      matches: [
        {
          id: 'm',
          a: { pieceId: 'gusset', edge: 0, notch: null },
          b: { pieceId: 'body', edge: 1, notch: null },
        },
      ],
    };
    const found = labelsFor(project);
    expect(found.find(({ name }) => name === 'Side gusset')?.sewnTo).toEqual(['Body panel']);
    expect(found.find(({ name }) => name === 'Body panel')?.sewnTo).toEqual(['Side gusset']);
  });

  it('stays inside a slip', () => {
    const slips: LabelSheet = {
      page: 'a4',
      rows: 16,
      columns: 4,
      marginXMm: 10,
      marginYMm: 10,
      gapXMm: 0,
      gapYMm: 0,
      frames: true,
    };
    const { width, height } = labelSize(slips);
    for (const sheet of labelSheets(labels.slice(0, 64), slips)) {
      for (const item of flatItems(sheet.drawing)) {
        if (item.kind !== 'text' || item.role === 'top-name') continue;
        const column = Math.floor((item.x - 10) / width);
        const end = item.x + textWidth(item.text, item.size, item.role);
        expect(end).toBeLessThanOrEqual(10 + (column + 1) * width + 0.01);
        expect((item.y - 10) % height).toBeGreaterThan(0);
      }
    }
  });
});
