import { useEffect, useRef } from 'preact/hooks';
import type { ClothLay, Project } from '../../../pattern/exchange/project.ts';
import { planSheets, tickSheets } from '../../../pattern/output/index.ts';
import { fillPrintSheets } from '../../render/printSheets.ts';
import { language } from '../../strings/index.ts';
import { usePaper } from './FileButton.tsx';

interface PrintSheetsProps {
  readonly project: Project;
  /** To be cut from; those on which nothing lies are left out. */
  readonly lays: readonly ClothLay[];
}

/**
 * What the browser's own print gives: plans, order of cutting and positions of every cloth, then the tick list. Hidden on
 * screen, and filled when printing begins, so that it always is what is shown.
 */
export function PrintSheets({ project, lays }: PrintSheetsProps) {
  const paper = usePaper();
  const host = useRef<HTMLDivElement>(null);
  const now = useRef({ project, lays, paper });
  now.current = { project, lays, paper };
  useEffect(() => {
    const fill = (): void => {
      const { project: shown, lays: wanted, paper: page } = now.current;
      const placed = wanted.filter((lay) => lay.segments.some((segment) => segment.placed.length > 0));
      if (!host.current || placed.length === 0) return;
      const options = { page, units: shown.units, language };
      const plans = placed.flatMap((lay) => planSheets(lay, shown, options));
      const ticks = tickSheets(shown, { ...options, by: 'material' });
      fillPrintSheets(host.current, [...plans, ...ticks], page);
    };
    const empty = (): void => host.current?.replaceChildren();
    addEventListener('beforeprint', fill);
    addEventListener('afterprint', empty);
    return () => {
      removeEventListener('beforeprint', fill);
      removeEventListener('afterprint', empty);
    };
  }, []);
  return <div ref={host} class="print-sheets" aria-hidden="true" />;
}
