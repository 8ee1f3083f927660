import { READING_LIMITS } from '../limits.ts';
import { Refusal } from '../refusal.ts';
import { type DxfRecord, numberOf, recordsOf, textOf } from './records.ts';

/** An entity with those that belong to it: the vertices of a polyline, the attributes of an insert. */
export interface DxfEntity extends DxfRecord {
  readonly layer: string;
  readonly parts: readonly DxfRecord[];
}

export interface DxfBlock {
  readonly name: string;
  readonly base: readonly [x: number, y: number];
  readonly entities: readonly DxfEntity[];
}

export interface DxfLayer {
  readonly name: string;
  readonly frozen: boolean;
  readonly off: boolean;
  /** Colour number of the AutoCAD colour index, 7 if it is not told. */
  readonly colour: number;
  readonly lineType: string;
}

export interface DxfDocument {
  /** Single-valued header variables by name with the dollar sign. */
  readonly header: ReadonlyMap<string, string>;
  readonly layers: ReadonlyMap<string, DxfLayer>;
  /** By name in capitals: names differ by more than case in no drawing program. */
  readonly blocks: ReadonlyMap<string, DxfBlock>;
  /** What stands in model space. */
  readonly entities: readonly DxfEntity[];
  /** Entities of print layouts (paper space), which are left out. */
  readonly onPaper: number;
}

/** Entities followed by records that belong to them, up to a SEQEND. */
const WITH_PARTS = new Set(['POLYLINE', 'INSERT']);
const PARTS = new Set(['VERTEX', 'ATTRIB']);

/** Puts the records of a DXF together. Throws `Refusal` where it cannot be used at all. */
export function parseDxf(text: string): DxfDocument {
  const header = new Map<string, string>();
  const layers = new Map<string, DxfLayer>();
  const blocks = new Map<string, DxfBlock>();
  const modelSpace: DxfEntity[] = [];
  let onPaper = 0;
  let section = '';
  let sections = 0;
  let block: { name: string; base: [number, number]; entities: DxfEntity[] } | null = null;
  let owner: DxfRecord[] | null = null;
  let entities = 0;

  for (const record of recordsOf(text)) {
    const { kind } = record;
    if (kind === 'SECTION') {
      section = (textOf(record, 2) ?? '').toUpperCase();
      sections += 1;
      if (section === 'HEADER') readHeader(record, header);
      owner = null;
      continue;
    }
    if (kind === 'ENDSEC') {
      section = '';
      block = null;
      owner = null;
      continue;
    }
    if (section === 'TABLES') {
      if (kind === 'LAYER') addLayer(record, layers);
      continue;
    }
    if (section === 'BLOCKS') {
      if (kind === 'BLOCK') {
        const name = textOf(record, 2) ?? '';
        block = { name, base: [numberOf(record, 10, 0), numberOf(record, 20, 0)], entities: [] };
        blocks.set(name.toUpperCase(), block);
        owner = null;
        continue;
      }
      if (kind === 'ENDBLK') {
        block = null;
        owner = null;
        continue;
      }
      if (!block) continue;
    } else if (section !== 'ENTITIES') continue;

    entities += 1;
    if (entities > READING_LIMITS.segments) throw new Refusal(({ tooManyLines }) => tooManyLines);
    if (kind === 'SEQEND') {
      owner = null;
      continue;
    }
    if (PARTS.has(kind)) {
      owner?.push(record);
      continue;
    }
    const parts: DxfRecord[] = [];
    const entity: DxfEntity = { ...record, layer: textOf(record, 8) ?? '0', parts };
    owner = WITH_PARTS.has(kind) ? parts : null;
    if (block) block.entities.push(entity);
    else if (numberOf(record, 67, 0) === 1) onPaper += 1;
    else modelSpace.push(entity);
  }
  if (sections === 0) throw new Refusal(({ noSections }) => noSections);
  return { header, layers, blocks, entities: modelSpace, onPaper };
}

function readHeader(record: DxfRecord, header: Map<string, string>): void {
  let name = '';
  record.codes.forEach((code, i) => {
    const value = (record.values[i] ?? '').trim();
    if (code === 9) name = value.toUpperCase();
    else if (name !== '' && !header.has(name)) header.set(name, value);
  });
}

function addLayer(record: DxfRecord, layers: Map<string, DxfLayer>): void {
  const name = textOf(record, 2);
  if (name === undefined || layers.size >= READING_LIMITS.layers) return;
  const colour = numberOf(record, 62, 7);
  layers.set(name, {
    name,
    frozen: (numberOf(record, 70, 0) & 1) === 1,
    // A layer is switched off by a negative colour (DXF reference, LAYER).
    off: colour < 0,
    colour: Math.abs(colour),
    lineType: (textOf(record, 6) ?? 'CONTINUOUS').toUpperCase(),
  });
}
