import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Page } from 'playwright-core';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Serious findings of axe-core by the rules of WCAG 2.2 A and AA, as short lines. */
export async function findings(page: Page): Promise<string[]> {
  await page.evaluate(AXE);
  const results = await page.evaluate(async () => {
    const { axe } = window as unknown as { axe: { run(options: unknown): Promise<AxeResults> } };
    return axe.run({
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
      resultTypes: ['violations'],
    });
  });
  return results.violations
    .filter((found) => found.impact === 'serious' || found.impact === 'critical')
    .map((found) => `${found.id}: ${found.nodes.map((node) => node.html.slice(0, 120)).join(' | ')}`);
}

/** How far the page can be pushed sideways, in pixels. */
export const overflow = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
