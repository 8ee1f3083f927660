import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { demoProject } from '../../../pattern/demo/demoProject.ts';
import { emptyProject } from '../../../pattern/exchange/emptyProject.ts';
import { openDocument, openProject } from '../../../pattern/exchange/openProject.ts';
import {
  type Piece,
  PROJECT_VERSION,
  type Project,
  projectSchema,
} from '../../../pattern/exchange/project.ts';
import { readableFaults } from '../../../pattern/exchange/readableFaults.ts';
import { projectFileName, saveProject } from '../../../pattern/exchange/saveProject.ts';
import { pieceOf, rectangle } from '../pieces/shapes.ts';

const refusal = (text: string): string => {
  const opened = openProject(text);
  if (opened.ok) throw new Error('it was opened');
  return opened.message;
};

const withPiece = (change: Record<string, unknown>): string =>
  JSON.stringify({
    ...emptyProject('Trial'),
    pieces: [{ ...pieceOf(rectangle(100, 50)), name: 'Side gusset', ...change }],
  });

describe('a project file', () => {
  it('comes back as it was saved', () => {
    const project = demoProject();
    const opened = openProject(saveProject(project));
    expect(opened).toEqual({ ok: true, project });
  });

  it('is the same text whatever the order of the keys, and ends with a newline', () => {
    const project = demoProject();
    const shuffled = (value: unknown): unknown => {
      if (Array.isArray(value)) return value.map(shuffled);
      if (value === null || typeof value !== 'object') return value;
      return Object.fromEntries(
        Object.entries(value)
          .reverse()
          .map(([key, entry]) => [key, shuffled(entry)]),
      );
    };
    const text = saveProject(project);
    expect(saveProject(shuffled(project) as Project)).toBe(text);
    expect(text.endsWith('}\n')).toBe(true);
    expect(text.startsWith('{\n "format": "clothlay-project",\n "version": 2,\n "name":')).toBe(true);
  });

  it('gets a name that any disk takes', () => {
    expect(projectFileName({ name: 'Saddle roll / picnic: “no 2”' })).toBe(
      'saddle-roll-picnic-no-2.clothlay.json',
    );
    expect(projectFileName({ name: 'Täschchen' })).toBe('taschchen.clothlay.json');
    expect(projectFileName({ name: '…' })).toBe('project.clothlay.json');
  });

  it('opens with a byte order mark and defaults for what is left out', () => {
    const text = `\uFEFF${JSON.stringify({ format: 'clothlay-project', version: 2, name: 'Bare' })}`;
    expect(openProject(text)).toEqual({ ok: true, project: emptyProject('Bare') });
  });

  it('survives any text that numbers, names and notes can hold', () => {
    fc.assert(
      fc.property(
        fc.string({ minLength: 1, maxLength: 40 }),
        fc.string({ maxLength: 200 }),
        (name, notes) => {
          fc.pre(name.trim() !== '');
          const project = { ...emptyProject(name.trim()), notes };
          expect(openProject(saveProject(project))).toEqual({ ok: true, project });
        },
      ),
    );
  });
});

describe('older and newer versions', () => {
  it('an old file is brought up to date', () => {
    const url = new URL('../../../fixtures/projects/version-0-handlebar-tube.json', import.meta.url);
    const opened = openProject(readFileSync(url, 'utf8'));
    if (!opened.ok) throw new Error(opened.message);
    expect(opened.migratedFrom).toBe(0);
    const { project } = opened;
    expect(project.version).toBe(PROJECT_VERSION);
    expect(project.name).toBe('Handlebar tube');
    expect(
      project.pieces.map((piece) => [piece.name, piece.outline.length, piece.grainDeg, piece.foldEdge]),
    ).toEqual([
      ['End cap', 5, 90, null],
      ['Tube, half', 4, 90, 3],
      ['Strap', 4, 0, null],
    ]);
    expect(project.cutList.map(({ plain, mirrored, onFold }) => [plain, mirrored, onFold])).toEqual([
      [2, 2, 0],
      [0, 0, 1],
      [0, 0, 1],
      [3, 0, 0],
    ]);
    expect(
      project.cloths.map((cloth) => [cloth.name, cloth.kind === 'roll' && cloth.widthMm, cloth.nap]),
    ).toEqual([
      ['Waxed cotton, olive', 1420, 'none'],
      ['Striped lining', 1120, 'oneWay'],
    ]);
    expect(project.layChoices.map((choice) => choice.clothIds)).toEqual([['roll-1'], ['roll-2']]);
  });

  it('a file of the first release opens with everything that is in it', () => {
    const url = new URL('../../../fixtures/projects/version-1-picnic-roll.json', import.meta.url);
    const text = readFileSync(url, 'utf8');
    const opened = openProject(text);
    if (!opened.ok) throw new Error(opened.message);
    expect(opened.migratedFrom).toBe(1);
    const { version, ...kept } = JSON.parse(text) as Record<string, unknown>;
    expect(version).toBe(1);
    expect(opened.project).toMatchObject(kept);
  });

  it('a faulty old file is refused by name too', () => {
    const old = {
      format: 'clothlay-project',
      version: 0,
      title: 'Old',
      pieces: [{ id: 'a', name: 'Cap', points: 'none', grain: 'upright' }],
      materials: [],
      cuts: [],
      rolls: [],
    };
    expect(refusal(JSON.stringify(old))).toContain('Piece “Cap”, points: must be a list');
  });

  it('a newer one is refused with a clear word', () => {
    const text = JSON.stringify({ ...emptyProject('Tomorrow'), version: PROJECT_VERSION + 2 });
    expect(refusal(text)).toBe(
      `The project was saved by a newer clothlay: its format is version ${PROJECT_VERSION + 2}, and this one reads up to version ${PROJECT_VERSION}. Update clothlay to open it.`,
    );
  });

  it.each([['"1"'], ['-1'], ['1.5'], ['null']])('version %s is refused', (version) => {
    expect(refusal(`{"format":"clothlay-project","version":${version}}`)).toContain('which version');
  });
});

describe('bad files', () => {
  it('half a file is refused, saying after what it breaks off', () => {
    const text = saveProject({
      ...emptyProject('Trial'),
      pieces: [pieceOf(rectangle(10, 20)), { ...pieceOf(rectangle(10, 20)), id: 'q', name: 'Front pocket' }],
    });
    const at = text.indexOf('Front pocket') + 40;
    expect(refusal(text.slice(0, at))).toContain('cut off after “Front pocket”');
    expect(refusal(text.slice(0, 30))).toContain('cut off after 30 characters');
  });

  it('wherever it is cut, the answer is that it is cut off, never a crash', () => {
    const text = saveProject(demoProject()).trim();
    for (let at = 1; at < text.length; at += 97) {
      expect(refusal(text.slice(0, at))).toContain('cut off');
    }
  });

  it.each([
    ['', 'empty'],
    ['  \n', 'empty'],
    ['<svg xmlns="http://www.w3.org/2000/svg"/>', 'not a project file but a drawing'],
    ['name;width;height', 'not a clothlay project'],
    ['[1, 2]', 'not a clothlay project'],
    ['null', 'not a clothlay project'],
    ['{"a": 1}', 'not a clothlay project'],
    ['{"a": 1,}', 'damaged'],
    ['{"a": 1}}', 'damaged'],
  ])('“%s” is refused', (text, why) => {
    expect(refusal(text)).toContain(why);
  });

  it.each<[string, Record<string, unknown>]>([
    ['Piece “Side gusset”, allowance: must be at least 0.', { allowanceMm: -3 }],
    [
      'Piece “Side gusset”, point 2: must be a number.',
      {
        outline: [
          [0, 0],
          [1, 'x'],
          [2, 2],
        ],
      },
    ],
    [
      'Piece “Side gusset”, outline: an outline needs three points.',
      {
        outline: [
          [0, 0],
          [1, 1],
        ],
      },
    ],
    ['Piece “Side gusset”, fold edge: must be a whole number.', { foldEdge: 0.5 }],
    ['Piece “Side gusset”, outline: is missing (a list is expected).', { outline: undefined }],
    ['Piece “Side gusset”, line: must be one of “cut”, “sew”.', { line: 'fold' }],
    ['Piece “Side gusset”, id: an id may hold letters, digits, "_", "-" and ".".', { id: 'a b' }],
    ['Piece 1, name: a name is missing.', { name: ' ' }],
    [
      'Piece “Side gusset”, hole 1, point 2: must be a number.',
      {
        holes: [
          [
            [0, 0],
            [null, 0],
            [0, 1],
          ],
        ],
      },
    ],
  ])('%s', (message, change) => {
    expect(refusal(withPiece(change))).toBe(`The project is faulty. ${message}`);
  });

  it('names three faults and counts the rest', () => {
    const text = withPiece({ allowanceMm: -1, grainDeg: 'up', topDeg: 9999, foldEdge: -2, notes: 5 });
    expect(refusal(text)).toMatch(/^The project is faulty\. Piece .+ Piece .+ Piece .+ And 2 more\.$/);
  });

  it('two pieces with one id are refused', () => {
    const piece: Piece = pieceOf(rectangle(10, 20));
    const project = { ...emptyProject('Twins'), pieces: [piece, { ...piece, name: 'Other' }] };
    expect(refusal(JSON.stringify(project))).toContain(
      'Two pieces, “Piece” and “Other”, have the same id “p”',
    );
  });

  it('never throws and never lets a faulty project in', () => {
    fc.assert(
      fc.property(fc.json(), (text) => {
        expect(openProject(text).ok).toBe(false);
      }),
    );
    const leaf = fc.oneof(fc.integer(), fc.string(), fc.constant(null), fc.constant([[0, 0]]), fc.double());
    const keys = fc.constantFrom('name', 'pieces', 'cutList', 'cloths', 'units', 'plans', 'notes');
    fc.assert(
      fc.property(
        fc.dictionary(
          keys,
          fc.oneof(leaf, fc.array(fc.dictionary(fc.constantFrom('id', 'name', 'outline', 'kind'), leaf))),
        ),
        (parts) => {
          const opened = openDocument({ ...emptyProject('Trial'), ...parts });
          if (opened.ok) expect(projectSchema.safeParse(opened.project).success).toBe(true);
          else expect(opened.message).toMatch(/^The project is faulty/);
        },
      ),
    );
  });
});

describe('readableFaults', () => {
  it('gives paths that programs can follow, through the wrapping of a request', () => {
    const body = {
      project: {
        ...emptyProject('Trial'),
        cloths: [{ kind: 'roll', id: 'r', name: 'Twill', materialId: 'm', widthMm: 0 }],
      },
    };
    const parsed = projectSchema.safeParse(body.project);
    const faults = readableFaults(parsed.error!, body.project);
    expect(faults).toEqual([
      { path: 'cloths.0.widthMm', message: 'Cloth “Twill”, width: must be greater than zero.' },
    ]);
  });
});
