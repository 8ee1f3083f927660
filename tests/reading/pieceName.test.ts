import { describe, expect, it } from 'vitest';
import { readSvg } from '../../pattern/reading/index.ts';
import { likeliestName, type NameCandidate } from '../../pattern/reading/pieceName.ts';
import { drawn, onPage, outlineOf } from './readings.ts';

const candidate = (text: string, more: Partial<NameCandidate> = {}): NameCandidate => ({
  text,
  sizeMm: 5,
  stands: 'in',
  offMiddle: 0.5,
  ...more,
});
const named = (...texts: (string | NameCandidate)[]): string | null =>
  likeliestName(texts.map((text) => (typeof text === 'string' ? candidate(text) : text)));

describe('the likeliest name of a piece', () => {
  it('is not a note beside it, however near', () => {
    const beside = (text: string): NameCandidate => candidate(text, { stands: 'beside', offMiddle: 1.1 });
    expect(named(beside('- attach the loop tape only where the user wants one'))).toBeNull();
    expect(named(beside('upper edge'), beside('seam allowance'), beside('Nahtzugabe'))).toBeNull();
    expect(named(beside('the lid is sewn to the back of this panel'))).toBeNull();
    expect(named(beside('Carry handle'))).toBe('Carry handle');
  });

  it('is the large text in the middle, not the small one at the border', () => {
    expect(
      named(
        candidate('Quilted part', { sizeMm: 3, offMiddle: 0.9 }),
        candidate('Base', { sizeMm: 12, offMiddle: 0.1 }),
      ),
    ).toBe('Base');
    expect(named('fold here', 'Lid', '12 cm')).toBe('Lid');
    expect(named('lengthwise fold')).toBeNull();
    expect(named('Edge binding')).toBe('Edge binding');
  });

  it('goes on in the second line, but for notes, measures and instructions', () => {
    expect(named('Front panel\nlower part')).toBe('Front panel lower part');
    expect(named('Front panel\ncut 2')).toBe('Front panel');
    expect(named('Front panel\non the fold')).toBe('Front panel');
    expect(named('Webbing. The stiffer the better')).toBe('Webbing');
  });

  it('comes from the sew line of a piece, not from a patch on it', () => {
    const reading = drawn(
      readSvg(
        onPage(`<rect id="cut" x="0" y="0" width="200" height="100"/><rect id="sewn" x="10" y="10" width="180" height="80"/>
          <rect id="patch" x="20" y="20" width="20" height="20"/>
          <text x="24" y="30" font-size="4">loop tape</text><text x="90" y="50" font-size="8">Rear panel</text>`),
        'a.svg',
      ),
    );
    expect(outlineOf(reading, 'sewn').suggestedName).toBe('Rear panel');
    expect(outlineOf(reading, 'cut').suggestedName).not.toBe('loop tape');
    expect(outlineOf(reading, 'patch').suggestedName).toBe('loop tape');
  });
});
