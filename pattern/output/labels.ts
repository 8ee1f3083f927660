import { setsTimes } from '../cutList/sets.ts';
import type { CutRow, Placed, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import type { DrawingItem, DrawnPoint } from '../plan/index.ts';
import { rectangle } from '../plan/intervals.ts';
import { CAP_HEIGHT, cleanText, isolate, LEADING, shorten, textWidth, wrap } from '../plan/text.ts';
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
      ? [{ role: 'piece-label', text: isolate(label.material) } as const]
      : [{ role: 'piece-label', text: [isolate(label.material), ...more].join(' · ') } as const]),
    ...(hasRoomForMore ? more.map((text) => ({ role: 'piece-label', text }) as const) : []),
  ] as const;
  const factsHeight = facts.length * small * LEADING;
  const left = height - 2 * PAD_MM - factsHeight;
  let size = NAME_MOST_MM;
  let lines: string[] = [];
  // Largest size at which the whole name stands in the room; at the least size it is shortened instead.
  for (; ; size = Math.max(TEXT.least, size - 0.3)) {
    const most = Math.max(1, Math.min(3, Math.floor(left / (size * LEADING))));
    lines = wrap(label.name, room, size, 'piece-name');
    const whole = lines.every((part) => !part.endsWith('…') || label.name.endsWith('…'));
    if (lines.length <= most && whole && lines.length * size * LEADING <= left) break;
    if (size <= TEXT.least) {
      const rest = lines.slice(most - 1).join(' ');
      lines = [...lines.slice(0, most - 1), shorten(rest, room, size, 'piece-name')];
      break;
    }
  }
  let at = y + PAD_MM;
  for (const part of lines) {
    items.push(line('piece-name', isolate(part), x + PAD_MM, at + size * CAP_HEIGHT, size, 'start'));
    at += size * LEADING;
  }
  at = y + height - PAD_MM - factsHeight + small * (LEADING - CAP_HEIGHT);
  for (const { role, text } of facts) {
    const fitted = Math.min(small, Math.max(TEXT.least, (small * room) / textWidth(text, small, role)));
    items.push(
      line(role, shorten(text, room, fitted, role), x + PAD_MM, at + small * CAP_HEIGHT, fitted, 'start'),
    );
    at += small * LEADING;
  }
  return items;
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
