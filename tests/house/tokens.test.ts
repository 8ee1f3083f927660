import { describe, expect, test } from 'vitest';
import { allFiles, read } from './sources.ts';

const TOKENS = 'client/styles/tokens.css';

/** What a style sheet says, as its lines without comments, each with its place. */
const lines = (path: string): string[] =>
  read(path)
    .replace(/\/\*[\s\S]*?\*\//g, (comment) => comment.replace(/[^\n]/g, ''))
    .split('\n')
    .map((line, i) => `${path}:${i + 1}: ${line.trim()}`);

const declaration = (line: string): string => line.replace(/^[^ ]+: /, '');

describe('design tokens', () => {
  const sheets = allFiles().filter((path) => path.endsWith('.css') && path !== TOKENS);
  // Paper is measured in millimetres and points, and has one side of its own.
  const onScreen = sheets.filter((path) => !path.endsWith('/print.css'));

  test('every colour has its name in one place', () => {
    expect(sheets.length).toBeGreaterThan(5);
    const stray =
      /#[\da-f]{3,8}\b|\b(?:rgba?|hsla?|oklch|color)\(|:[^;]*\b(?:white|black|red|green|blue|gr[ae]y)\b/i;
    expect(sheets.flatMap(lines).filter((line) => stray.test(declaration(line)))).toEqual([]);
    const views = allFiles().filter((path) => /^client\/(render|views)\/.*\.tsx?$/.test(path));
    const literal = /['"`]#(?:[\da-f]{3}|[\da-f]{6})['"`]|\brgba?\(/i;
    expect(views.flatMap(lines).filter((line) => literal.test(line))).toEqual([]);
  });

  test('sizes of text, distances, corners and shadows come from the same few', () => {
    const own: readonly [property: RegExp, stray: RegExp][] = [
      [/^font-size:/, /\d(?:rem|px)/],
      [/^(?:row-gap|column-gap|gap|padding[\w-]*|margin[\w-]*):/, /(?<![\w.-])\d*\.?\d+(?:rem|px)/],
      [/^border-radius:/, /\d(?:rem|px)/],
      [/^font(?:-family)?:/, /"|serif/],
    ];
    const faults = onScreen
      .flatMap(lines)
      .filter((line) =>
        own.some(([property, stray]) => property.test(declaration(line)) && stray.test(declaration(line))),
      )
      // What only a screen reader reads is taken out of the picture by this.
      .filter((line) => !line.includes('margin: -1px'));
    expect(faults).toEqual([]);
  });

  test('every name that is used is given, and every name that is given is used', () => {
    const given = new Set([...read(TOKENS).matchAll(/^\s*(--[\w-]+):/gm)].map(([, name]) => name));
    const all = [TOKENS, ...sheets].map(read).join('\n');
    const used = new Set([...all.matchAll(/var\((--[\w-]+)/g)].map(([, name]) => name));
    const local = new Set(
      [
        ...all.matchAll(/^\s*(--[\w-]+):/gm),
        ...allFiles()
          .filter((path) => /^client\/.*\.tsx?$/.test(path))
          .flatMap((path) => [...read(path).matchAll(/['"`](--[\w-]+)/g)]),
      ].map(([, name]) => name),
    );
    expect([...used].filter((name) => !local.has(name))).toEqual([]);
    expect([...given].filter((name) => !used.has(name))).toEqual([]);
  });
});
