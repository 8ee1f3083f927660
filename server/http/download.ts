import type { Response } from 'express';
import type { Language } from '../../pattern/language.ts';

/** A file as the whole answer: plain data, so that it can be made in another thread. */
export interface Download {
  /** Media type, with its charset where it has one. */
  readonly type: string;
  /** Name of the file, without its ending; what a header can't hold is left out of it. */
  readonly name: string;
  readonly ending: string;
  readonly body: string | Uint8Array;
  /** To be saved, not shown. */
  readonly save: boolean;
  /** In which it speaks, where it does. */
  readonly language?: Language;
}

/** A PDF shown by a browser's own viewer, which a sandbox or a ban on objects would keep from working. */
const FILE_POLICY =
  "default-src 'none'; object-src 'self'; style-src 'unsafe-inline'; frame-ancestors 'none'";

/** Sends a file under a name of letters, digits, dots and hyphens, whatever the project is called. */
export function sendDownload(
  response: Response,
  { type, name, ending, body, save, language }: Download,
  policy = FILE_POLICY,
): void {
  const ascii = name
    .normalize('NFKD')
    .replace(/[^\w.-]+/g, '-')
    .replace(/-{2,}/g, '-')
    .replace(/^[-.]+|[-.]+$/g, '')
    .slice(0, 60);
  const file = `${ascii === '' ? 'clothlay' : ascii}.${ending}`;
  response.setHeader('Content-Security-Policy', policy);
  response.setHeader('Content-Disposition', `${save ? 'attachment' : 'inline'}; filename="${file}"`);
  response.setHeader('Content-Type', type);
  if (language !== undefined) response.setHeader('Content-Language', language);
  response.end(body);
}
