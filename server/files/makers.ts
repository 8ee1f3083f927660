import type { Language } from '../../pattern/language.ts';
import type { Download } from '../http/download.ts';
import { fullLayPdf, layoutDxf, layoutSvg, layTable, planPdf, projectorLayPdf } from './layFiles.ts';
import {
  cutList,
  labelsPdf,
  piecesDxf,
  piecesPdf,
  projectorPiecesPdf,
  shoppingPdf,
  shoppingRows,
  ticksPdf,
} from './projectFiles.ts';
import { tableCsv, tablePdf } from './tableFiles.ts';

/** Everything that can be taken away as a file, made from plain data alone: so it can be made in any thread. */
const MAKERS = {
  planPdf,
  fullLayPdf,
  projectorLayPdf,
  layoutDxf,
  layoutSvg,
  layTable,
  piecesPdf,
  projectorPiecesPdf,
  piecesDxf,
  cutList,
  ticksPdf,
  shoppingPdf,
  shoppingRows,
  labelsPdf,
  tablePdf,
  tableCsv,
};

export type MakerName = keyof typeof MAKERS;
export type MakerInput<Name extends MakerName> = Parameters<(typeof MAKERS)[Name]>[0];

/** An errand for a thread that makes files. */
export interface FileOrder<Name extends MakerName = MakerName> {
  readonly name: Name;
  readonly input: MakerInput<Name>;
  readonly language: Language;
}

/** Who wants a file, and until when. */
export interface Asker {
  readonly client: string;
  /** In which the file speaks. */
  readonly language: Language;
  /** Aborts when nobody waits for the file any longer. */
  readonly signal?: AbortSignal;
}

/** Makes a file, here or elsewhere. Rejects with a `Problem` where that file can't be. */
export type MakeFile = <Name extends MakerName>(
  name: Name,
  input: MakerInput<Name>,
  asker: Asker,
) => Promise<Download>;

/** Makes a file in the thread that asks. */
export async function makeHere<Name extends MakerName>(
  name: Name,
  input: MakerInput<Name>,
  { language }: Pick<Asker, 'language'>,
): Promise<Download> {
  const maker = MAKERS[name] as (input: MakerInput<Name>, language: Language) => Download | Promise<Download>;
  return maker(input, language);
}
