import { rectangle } from '../plan/intervals.ts';
import type { DrawingSink } from '../plan/sink.ts';
import { unitName } from '../units/index.ts';
import { outputWords } from './words/index.ts';

/** What is measured on paper before anything is cut. */
export const TEST_SQUARES = { metricMm: 50, inchMm: 50.8 } as const;
export const TEST_SQUARES_MM = { width: 50 + 8 + 50.8, height: 50.8 } as const;

/** A square of 5 cm and one of 2 in side by side, upper left corner at (x, y). */
export function drawTestSquares(sink: DrawingSink, x: number, y: number): void {
  const { metricMm, inchMm } = TEST_SQUARES;
  const square = (left: number, side: number, words: string) => {
    sink.add('rulers', {
      kind: 'path',
      role: 'dimension',
      lines: [rectangle(left, y, side, side)],
      closed: true,
    });
    const middle = { anchor: 'middle' } as const;
    sink.text('rulers', 'dimension-text', words, left + side / 2, y + side / 2, 4.2, middle);
    sink.text(
      'rulers',
      'note',
      outputWords(sink.language).full.mustMeasure,
      left + side / 2,
      y + side / 2 + 4.6,
      2.5,
      middle,
    );
  };
  square(x, metricMm, '5 cm');
  square(x + metricMm + 8, inchMm, `2 ${unitName('in', sink.language)}`);
}
