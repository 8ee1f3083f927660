import { setsTimes } from '../cutList/sets.ts';
import type { CutRow, Placed, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import type { DrawingItem, DrawnPoint } from '../plan/index.ts';
import { rectangle } from '../plan/intervals.ts';
import {
  breakAnywhere,
  CAP_HEIGHT,
  cleanText,
  isolate,
  LEADING,
  shorten,
  textWidth,
  wrap,
} from '../plan/text.ts';
import type { Role } from '../plan/tokens.ts';
import { PAPERS, TEXT } from '../plan/tokens.ts';
import { planWords } from '../plan/words/index.ts';
import { formatNumber } from '../units/index.ts';
import { blankPage } from './pageTable.ts';
import type { Sheet } from './sheet.ts';
import { tenth } from './table.ts';
import { outputWords } from './words/index.ts';

/** A sheet of labels by its free measures, mm. */
export interface LabelSheet {
  readonly page: 'a4' | 'letter';
  readonly rows: number;
  readonly columns: number;
  /** From the paper's edges to the outer labels. */
  readonly marginXMm: number;
  readonly marginYMm: number;
  /** Between labels. */
  readonly gapXMm: number;
  readonly gapYMm: number;
  /** A line around each label, to cut along where the paper isn't cut already. */
  readonly frames: boolean;
}

/** What one cut piece is. */
export interface Label {
  readonly name: string;
  readonly material: string;
  readonly hand: Extract<Placed['hand'], 'plain' | 'mirrored' | 'fold'>;
  /** 1 … of so many of this piece in this material and hand. */
  readonly copy: number;
  readonly of: number;
  /** Layers of the same piece that are joined to it: interfacing, foam. */
  readonly layers?: readonly string[];
  /** Pieces whose edges meet one of its own, where that is known. */
  readonly sewnTo?: readonly string[];
  /** Number of the set it belongs to; missing where there is one only. */
  readonly set?: number;
}

/** Smallest label that holds a name, a hand and a count one can read, mm. */
const LEAST_LABEL_MM = { width: 25, height: 12 } as const;

/** Width and height of one label on such a sheet; zero or less where margins and gaps leave nothing. */
export function labelSize(sheet: LabelSheet): { width: number; height: number } {
  const paper = PAPERS[sheet.page];
  const share = (paperMm: number, margin: number, gap: number, count: number) =>
    (paperMm - 2 * margin - (count - 1) * gap) / count;
  return {
    width: share(paper.width, sheet.marginXMm, sheet.gapXMm, sheet.columns),
    height: share(paper.height, sheet.marginYMm, sheet.gapYMm, sheet.rows),
  };
}

/** Why a sheet holds no label, in words for the maker; null if it does. */
export function labelFault(sheet: LabelSheet, language: Language = USUAL_LANGUAGE): string | null {
  const { width, height } = labelSize(sheet);
  if (width >= LEAST_LABEL_MM.width && height >= LEAST_LABEL_MM.height) return null;
  const words = outputWords(language).labels;
  const written = (mm: number) => formatNumber(tenth(mm), language);
  const had = width > 0 && height > 0 ? words.had(written(width), written(height)) : words.hadNone;
  return words.fault(sheet.columns, sheet.rows, had, LEAST_LABEL_MM.width, LEAST_LABEL_MM.height);
}

/** One label for every cut piece of the cut list, or of one material, in its order. */
export function labelsFor(project: Project, materialId?: string): Label[] {
  const names = new Map(project.pieces.map((piece) => [piece.id, piece.name]));
  const materials = new Map(project.materials.map((material) => [material.id, material.name]));
  const times = setsTimes(project);
  const about = (row: CutRow): Pick<Label, 'layers' | 'sewnTo'> => {
    const layers = layersOn(row, project);
    const material = project.materials.find(({ id }) => id === row.materialId);
    const sewnTo = LAYER_ROLES.has(material?.role ?? '') ? [] : partnersOf(row.pieceId, project);
    return { ...(layers.length > 0 ? { layers } : {}), ...(sewnTo.length > 0 ? { sewnTo } : {}) };
  };
  return project.cutList
    .filter((row) => materialId === undefined || row.materialId === materialId)
    .flatMap((row) =>
      (
        [
          ['plain', row.plain],
          ['mirrored', row.mirrored],
          ['fold', row.onFold],
        ] as const
      ).flatMap(([hand, each]) =>
        Array.from(
          { length: times * each },
          (_, i): Label => ({
            name: cleanText(names.get(row.pieceId) ?? row.pieceId),
            material: cleanText(materials.get(row.materialId) ?? row.materialId),
            hand,
            copy: i + 1,
            of: times * each,
            ...(times > 1 ? { set: Math.floor(i / each) + 1 } : {}),
            ...about(row),
          }),
        ),
      ),
    );
}

/** Materials that stiffen or pad another. */
const LAYER_ROLES = new Set(['interfacing', 'foam']);

/** Interfacing and foam that the cut list has of the same piece; of a layer itself none is told. */
function layersOn(row: CutRow, project: Project): string[] {
  const roleOf = (id: string) => project.materials.find((material) => material.id === id);
  if (LAYER_ROLES.has(roleOf(row.materialId)?.role ?? '')) return [];
  // A lining bears no interfacing unless the maker has said that it follows the lining.
  const isLining = roleOf(row.materialId)?.role === 'lining';
  const own = roleOf(row.materialId)?.companions ?? [];
  return project.cutList.flatMap((other) => {
    const material = roleOf(other.materialId);
    const isLayer = other.pieceId === row.pieceId && LAYER_ROLES.has(material?.role ?? '');
    const isMeant = own.includes(other.materialId) || !isLining;
    return isLayer && isMeant && copies(other) > 0 && material ? [cleanText(material.name)] : [];
  });
}

const copies = ({ plain, mirrored, onFold }: CutRow): number => plain + mirrored + onFold;

/** Names of the pieces that meet this one along an edge. */
function partnersOf(pieceId: string, project: Project): string[] {
  const ids = (project.matches ?? []).flatMap(({ a, b }) =>
    a.pieceId === pieceId ? [b.pieceId] : b.pieceId === pieceId ? [a.pieceId] : [],
  );
  const names = new Map(project.pieces.map((piece) => [piece.id, piece.name]));
  return [...new Set(ids)].map((id) => cleanText(names.get(id) ?? id));
}

/**
 * The labels on sheets of that kind, row by row. At least one sheet, blank if there is no label. RangeError for a
 * sheet that holds none (`labelFault`).
 */
export function labelSheets(
  labels: readonly Label[],
  sheet: LabelSheet,
  language: Language = USUAL_LANGUAGE,
): Sheet[] {
  const fault = labelFault(sheet, language);
  const words = outputWords(language).labels;
  if (fault !== null) throw new RangeError(`labelSheets: ${fault}`);
  const paper = PAPERS[sheet.page];
  const { width, height } = labelSize(sheet);
  const each = sheet.rows * sheet.columns;
  const count = Math.max(1, Math.ceil(labels.length / each));
  return Array.from({ length: count }, (_, page): Sheet => {
    const sink = blankPage(paper.width, paper.height, language);
    labels.slice(page * each, (page + 1) * each).forEach((label, i) => {
      const x = sheet.marginXMm + (i % sheet.columns) * (width + sheet.gapXMm);
      const y = sheet.marginYMm + Math.floor(i / sheet.columns) * (height + sheet.gapYMm);
      if (sheet.frames) {
        sink.add('rulers', {
          kind: 'path',
          role: 'table-line',
          lines: [rectangle(x, y, width, height)],
          closed: true,
        });
      }
      sink.add('labels', ...drawLabel(label, x, y, width, height, language));
    });
    const title = words.sheet(page + 1, count);
    return {
      ...(page === 0 ? { bookmark: words.title } : {}),
      drawing: sink.drawing(paper.width, paper.height, title),
    };
  });
}

const PAD_MM = 2;
const ARROW = { width: 3.2, height: 2.8, stem: 4 } as const;
const NAME_MOST_MM = 5;
const NAME_MOST_LINES = 3;
/**
 * A label is read in the hand, from 40 cm: capitals of 1.87 mm are seen there under 16 minutes of arc (as `TEXT`).
 * Words that would have to be smaller are broken and then shortened; smaller ones stand only on a label too low for
 * one line of these.
 */
const LEGIBLE_MM = 2.6;

type FactRole = Extract<Role, 'piece-name' | 'piece-label'>;

/** Name as large as two lines allow, hand and count, material; at the right an arrow to the piece's top. */
function drawLabel(
  label: Label,
  x: number,
  y: number,
  width: number,
  height: number,
  language: Language,
): DrawingItem[] {
  const said = planWords(language);
  const words = outputWords(language).labels;
  const items: DrawingItem[] = [];
  const arrowX = x + width - PAD_MM - ARROW.width / 2;
  const tip = y + PAD_MM;
  items.push(
    {
      kind: 'path',
      role: 'top',
      closed: true,
      lines: [
        [
          [arrowX, tip],
          [arrowX + ARROW.width / 2, tip + ARROW.height],
          [arrowX - ARROW.width / 2, tip + ARROW.height],
        ],
      ],
    },
    {
      kind: 'path',
      role: 'direction',
      closed: false,
      lines: [
        [
          [arrowX, tip + ARROW.height],
          [arrowX, tip + ARROW.height + ARROW.stem * Math.min(1, height / 25)],
        ],
      ],
    },
  );
  const word = y + height - PAD_MM;
  const foot = tip + ARROW.height + ARROW.stem * Math.min(1, height / 25) + TEXT.least * 1.2;
  if (foot <= word) {
    items.push(line('top-name', said.top, arrowX, foot, TEXT.least, 'middle'));
  }
  const room = width - 2 * PAD_MM - ARROW.width - 1.5;
  const set = label.set === undefined ? [] : [said.sets([label.set])];
  const { layers = [], sewnTo = [] } = label;
  const more = [
    ...(layers.length > 0 ? [words.layers(layers.map(isolate))] : []),
    ...(sewnTo.length > 0 ? [words.sewnTo(sewnTo.map(isolate))] : []),
  ];
  const small = Math.min(3.4, Math.max(TEXT.least, height * 0.14));
  // On a slip it stands behind the material; the name needs two lines of its own.
  const hasRoomForMore = height - 2 * PAD_MM >= (4 + more.length) * small * LEADING;
  const facts = [
    {
      role: 'piece-name',
      text: [said.copy(label.copy, label.of), said.hand(label.hand).long, ...set].join(' · '),
    },
    ...(hasRoomForMore || more.length === 0
      ? [{ role: 'piece-label', text: label.material } as const]
      : [{ role: 'piece-label', text: [isolate(label.material), ...more].join(' · ') } as const]),
    ...(hasRoomForMore ? more.map((text) => ({ role: 'piece-label', text }) as const) : []),
  ] as const;
  const pitch = small * LEADING;
  const inside = height - 2 * PAD_MM;
  const spare = Math.floor((inside - 2 * LEGIBLE_MM * LEADING) / pitch) - facts.length;
  const told = tellFacts(facts, room, small, spare);
  const factsHeight = told.length * pitch;
  const { size, lines } = setName(label.name, room, inside - factsHeight);
  let at = y + PAD_MM;
  for (const part of lines) {
    items.push(line('piece-name', isolate(part), x + PAD_MM, at + size * CAP_HEIGHT, size, 'start'));
    at += size * LEADING;
  }
  at = y + height - PAD_MM - factsHeight + small * (LEADING - CAP_HEIGHT);
  for (const { role, text, size: fitted } of told) {
    items.push(line(role, text, x + PAD_MM, at + small * CAP_HEIGHT, fitted, 'start'));
    at += pitch;
  }
  return items;
}

/**
 * A name in a room of so many mm: as large as it stands in whole, on up to three lines; where that would take letters
 * too small to read, words are broken, and what still has no room is left out behind an ellipsis.
 */
function setName(name: string, width: number, height: number): { size: number; lines: string[] } {
  const least = Math.max(TEXT.least, Math.min(LEGIBLE_MM, height / LEADING));
  const mostLines = (size: number) =>
    Math.max(1, Math.min(NAME_MOST_LINES, Math.floor(height / (size * LEADING) + 1e-9)));
  const sizes: number[] = [];
  for (let size = NAME_MOST_MM; size > least; size -= 0.3) sizes.push(size);
  sizes.push(least);
  const isWide = (word: string, size: number) => textWidth(word, size, 'piece-name') > width;
  for (const size of sizes) {
    if (size * LEADING > height && size > least) continue;
    if (name.split(' ').some((word) => isWide(word, size))) continue;
    const lines = wrap(name, width, size, 'piece-name');
    if (lines.length <= mostLines(size)) return { size, lines };
  }
  for (const size of sizes) {
    if (size * LEADING > height && size > least) continue;
    const lines = breakAnywhere(name, width, size, 'piece-name');
    if (lines.length <= mostLines(size)) return { size, lines };
  }
  return { size: least, lines: breakAnywhere(name, width, least, 'piece-name', mostLines(least)) };
}

/**
 * What is said below the name, a line each: smaller where it is long, and on two lines while `spare` lines are left;
 * what is longer still is shortened.
 */
function tellFacts(
  facts: readonly { readonly role: FactRole; readonly text: string }[],
  room: number,
  small: number,
  spare: number,
): { role: FactRole; text: string; size: number }[] {
  const least = Math.min(small, LEGIBLE_MM);
  let left = spare;
  return facts.flatMap(({ role, text }) => {
    const fits = (small * room) / textWidth(text, small, role);
    if (fits >= least || left <= 0) {
      const size = Math.min(small, Math.max(least, fits));
      return [{ role, text: isolate(shorten(text, room, size, role)), size }];
    }
    left--;
    return breakAnywhere(text, room, least, role, 2).map((part) => ({
      role,
      text: isolate(part),
      size: least,
    }));
  });
}

function line(
  role: 'piece-name' | 'piece-label' | 'top-name',
  text: string,
  x: number,
  y: number,
  size: number,
  anchor: 'start' | 'middle',
): DrawingItem {
  const [px, py]: DrawnPoint = [x, y];
  return { kind: 'text', role, x: px, y: py, size, anchor, rotation: 0, text };
}
