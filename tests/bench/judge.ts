import { existsSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { sharedFolder } from '../support/sharedFolder.ts';
import type { LayoutFile, ProblemFile } from './format.ts';

interface Judgement {
  readonly ok: boolean;
  readonly faults: readonly string[];
}
type Judge = (problem: ProblemFile, layout: LayoutFile) => Judgement;

/** The benchmark folder's own judge, which shares no code with this project; null where it isn't there. */
export async function findJudge(): Promise<Judge | null> {
  const shared = sharedFolder();
  const path = `${shared}tools/check-layout.mjs`;
  if (!shared || !existsSync(path)) return null;
  const judge: { checkLayout: Judge } = await import(pathToFileURL(path).href);
  return judge.checkLayout;
}
