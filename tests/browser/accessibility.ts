import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Page } from 'playwright-core';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Findings of axe-core by the rules of WCAG 2.2 A and AA and by its own of good practice, as short lines. */
export async function findings(page: Page): Promise<string[]> {
  await page.evaluate(AXE);
  const results = await page.evaluate(async () => {
    const { axe } = window as unknown as { axe: { run(options: unknown): Promise<AxeResults> } };
    return axe.run({
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
      rules: {
        'target-size': { enabled: true },
        // Experimental: it wants the very characters of a drawing's label, set in lines and signs ("2 of 3 · pair"), in the
        // name, which says the same in a sentence and begins with the same words (WCAG 2.5.3).
        'label-content-name-mismatch': { enabled: false },
      },
      resultTypes: ['violations'],
    });
  });
  return results.violations.map(
    (found) => `${found.id}: ${found.nodes.map((node) => node.html.slice(0, 160)).join(' | ')}`,
  );
}

/**
 * Drawings that say nothing to a screen reader: each has a name or is left out (what it shows then stands beside it), and
 * whatever can be pressed or turned in it has a name of its own.
 */
export const unnamedDrawings = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const isNamed = (element: Element): boolean =>
      (element.getAttribute('aria-label') ?? '').trim() !== '' ||
      (document.getElementById(element.getAttribute('aria-labelledby') ?? '')?.textContent ?? '').trim() !==
        '';
    const isLeftOut = (element: Element): boolean => element.closest('[aria-hidden="true"]') !== null;
    const show = (element: Element): string => element.outerHTML.replace(/\s+/g, ' ').slice(0, 140);
    const drawings = [...document.querySelectorAll('svg')].filter(
      (svg) => svg.parentElement?.closest('svg') === null && svg.checkVisibility() && !isLeftOut(svg),
    );
    const roles = new Set(['img', 'group', 'slider', 'button', 'application']);
    return [
      ...drawings
        .filter((svg) => !roles.has(svg.getAttribute('role') ?? '') || !isNamed(svg))
        .map((svg) => `drawing without a name: ${show(svg)}`),
      ...[...document.querySelectorAll('svg [tabindex], svg [role]')]
        .filter((part) => !isLeftOut(part) && !isNamed(part))
        .map((part) => `part of a drawing without a name: ${show(part)}`),
    ].slice(0, 8);
  });

/** How far the page can be pushed sideways, in pixels. */
export const overflow = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

/**
 * What does not fit: the page or a dialog that can be pushed sideways, what sticks out of the window, words that are cut
 * off. Boxes that are meant to be pushed (drawings, tables of figures, WCAG 1.4.10) say so by `overflow-x: auto`.
 */
export const misfits = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const found: string[] = [];
    const window = document.documentElement.clientWidth;
    const show = (element: Element): string => element.outerHTML.replace(/\s+/g, ' ').slice(0, 120);
    for (const box of document.querySelectorAll('html, dialog[open]')) {
      const over = box.scrollWidth - box.clientWidth;
      if (over > 0) found.push(`pushed sideways by ${over}: ${show(box)}`);
    }
    const isPushable = (element: Element): boolean => {
      for (let at = element.parentElement; at; at = at.parentElement) {
        if (at.matches('svg, dialog, html')) return at.matches('svg');
        if (/auto|scroll/.test(getComputedStyle(at).overflowX)) return true;
      }
      return false;
    };
    for (const element of document.body.querySelectorAll<HTMLElement>('*')) {
      if (element.closest('svg, .sr, .skip, dialog:not([open])') || !element.checkVisibility()) continue;
      const box = element.getBoundingClientRect();
      if (box.width <= 1 || box.height <= 1) continue;
      const style = getComputedStyle(element);
      const dialog = element.parentElement?.closest('dialog');
      const width = dialog
        ? dialog.getBoundingClientRect().left + dialog.clientLeft + dialog.clientWidth
        : window;
      if (box.right > width + 1 && !isPushable(element)) found.push(`outside the window: ${show(element)}`);
      const hides = /hidden|clip/.test(style.overflowX) || element.matches('button, .button, .tag, label');
      const isField = element.matches('input, select, textarea');
      if (hides && !isField && element.scrollWidth > element.clientWidth + 1 && style.display !== 'inline')
        found.push(`cut off by ${element.scrollWidth - element.clientWidth}: ${show(element)}`);
    }
    return found.slice(0, 12);
  });

/**
 * Gives the focus to everything that can have it, in turn, and tells what hides it or shows nothing of it: WCAG 2.4.7 and
 * 2.4.11. Within a group of radio buttons one stands for all.
 */
export async function focusFaults(page: Page): Promise<string[]> {
  // From now on the browser takes the focus as the keyboard's, and shows it.
  await page.keyboard.press('Tab');
  return page.evaluate(() => {
    const found: string[] = [];
    const scope = document.querySelector('dialog[open]') ?? document.body;
    const all = scope.querySelectorAll<HTMLElement | SVGElement>(
      'a[href], button:not(:disabled), input:not(:disabled), select:not(:disabled), textarea, summary, [tabindex="0"]',
    );
    // Drawings show the focus by strokes and fills, a field that is drawn by its label shows it there.
    const look = (element: Element): string =>
      [element, element.closest('label'), ...element.querySelectorAll('*')]
        .map((one) => {
          if (!one) return '';
          const style = getComputedStyle(one);
          return `${style.outline} ${style.boxShadow} ${style.stroke} ${style.strokeWidth} ${style.fill} ${style.opacity}`;
        })
        .join('\n');
    for (const element of all) {
      if (!element.isConnected || !element.checkVisibility({ visibilityProperty: true })) continue;
      const what = element.outerHTML.replace(/\s+/g, ' ').slice(0, 140);
      element.blur();
      const before = look(element);
      element.focus();
      if (document.activeElement !== element) {
        found.push(`takes no focus: ${what}`);
        continue;
      }
      if (look(element) === before) found.push(`shows no focus: ${what}`);
      const target = element.closest('label.button, label.drop, .choice-row label') ?? element;
      const { left, right, top, bottom } = target.getBoundingClientRect();
      const [width, height] = [document.documentElement.clientWidth, document.documentElement.clientHeight];
      const seen = (x: number, y: number): boolean => {
        if (x < 0 || y < 0 || x >= width || y >= height) return false;
        const there = document.elementFromPoint(x, y);
        return there !== null && (target.contains(there) || there.contains(target));
      };
      const points = [0.5, 0.1, 0.9].flatMap((u) =>
        [0.5, 0.15, 0.85].map((v) => [left + (right - left) * u, top + (bottom - top) * v] as const),
      );
      if (!points.some(([x, y]) => seen(x, y)) && !element.matches('.sr')) found.push(`is hidden: ${what}`);
    }
    return found.slice(0, 12);
  });
}

/** Sets text as WCAG 1.4.12 asks a page to bear it, or takes that back. */
export const spaceText = (page: Page, isOn: boolean): Promise<void> =>
  page.evaluate((on) => {
    document.adoptedStyleSheets = [];
    if (!on) return;
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(
      '* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; } p { margin-bottom: 2em !important; }',
    );
    document.adoptedStyleSheets = [sheet];
  }, isOn);

/** Text so many times as large as usual, as browsers' own setting for it does. */
export const enlargeText = (page: Page, times: number): Promise<void> =>
  page.evaluate((factor) => {
    document.documentElement.style.setProperty('font-size', `${factor * 100}%`);
  }, times);
