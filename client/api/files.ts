import { request } from './http.ts';

/** A file the server made. */
export interface MadeFile {
  /** As the server names it, safe for every file system. */
  readonly name: string;
  readonly content: Blob;
}

/** What the files of a lay are asked for by; all layouts of the latest plans if it is empty. */
export interface LayFileQuery {
  readonly plan?: string;
  readonly cloth?: string;
  readonly material?: string;
  readonly spread?: string;
  readonly page?: 'a4' | 'letter' | 'a3' | 'tabloid' | 'both' | 'a1' | 'a0' | 'roll' | 'one';
  /** Id of the one piece that is wanted. */
  readonly piece?: string;
  /** Of full-size sheets, mm as text. */
  readonly margin?: string;
  readonly overlap?: string;
  readonly roll?: string;
  readonly unfold?: '0' | '1';
  readonly mirror?: '0' | '1';
  /** Of a sheet of labels: numbers as text. */
  readonly rows?: string;
  readonly columns?: string;
  readonly marginX?: string;
  readonly marginY?: string;
  readonly gapX?: string;
  readonly gapY?: string;
  readonly frames?: '0' | '1';
  readonly by?: 'material' | 'part';
}

export type ProjectFile =
  | 'plan.pdf'
  | 'full.pdf'
  | 'layout.dxf'
  | 'positions.csv'
  | 'cutlist.csv'
  | 'labels.pdf'
  | 'pieces.pdf'
  | 'projector.pdf'
  | 'pieces-projector.pdf'
  | 'ticks.pdf'
  | 'shopping.pdf'
  | 'shopping.csv';

/**
 * A file of the project as the server has stored it; what is unsent must be sent before.
 * @throws HttpProblem with the server's own sentence where the file can't be made, Unreachable
 */
export async function fetchProjectFile(
  projectId: string,
  file: ProjectFile,
  query: LayFileQuery,
): Promise<MadeFile> {
  const asked = new URLSearchParams({ ...query, download: '1' });
  const response = await request('GET', `/api/projects/${encodeURIComponent(projectId)}/${file}?${asked}`);
  return {
    name: nameIn(response.headers.get('content-disposition')) ?? file,
    content: await response.blob(),
  };
}

/** The plain form of the name in a Content-Disposition header (RFC 6266); the server sends one without quotes in it. */
export function nameIn(header: string | null): string | null {
  return /filename="([^"]+)"/.exec(header ?? '')?.[1] ?? null;
}
