import type { Response } from 'express';
import type { MakeFile, MakerInput, MakerName } from '../files/makers.ts';
import { sendDownload } from '../http/download.ts';
import { languageOf } from '../http/language.ts';

/** Has a file made for whoever asked, and sends it; when they go away before, nobody goes on with it. */
export async function sendFile<Name extends MakerName>(
  response: Response,
  make: MakeFile,
  name: Name,
  input: MakerInput<Name>,
  policy?: string,
): Promise<void> {
  const gone = new AbortController();
  const leave = (): void => gone.abort();
  response.once('close', leave);
  try {
    const file = await make(name, input, {
      language: languageOf(response.req),
      client: String(response.locals.client ?? ''),
      signal: gone.signal,
    });
    sendDownload(response, file, policy);
  } catch (error) {
    // There is nobody left to be told that it was not made.
    if (!gone.signal.aborted) throw error;
  } finally {
    response.off('close', leave);
  }
}
