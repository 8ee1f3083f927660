import type { Locator, Page } from 'playwright-core';

/** The page used by keyboard alone: every stop on the way must show itself, and no step may drop the focus. */
export class Keyboard {
  readonly #page: Page;
  /** What was wrong at any stop so far. */
  readonly faults: string[] = [];

  constructor(page: Page) {
    this.#page = page;
  }

  /** Goes forward, or backward, by Tab until the target has the focus. */
  async to(target: Locator, way: 'Tab' | 'Shift+Tab' = 'Tab', most = 150): Promise<void> {
    await target.first().waitFor();
    for (let stops = 0; stops <= most; stops++) {
      if (await target.first().evaluate((element) => element === document.activeElement)) return;
      await this.#page.keyboard.press(way);
      await this.#look();
    }
    throw new Error(`not reached within ${most} stops: ${String(target)}`);
  }

  /** Goes to something and presses a key on it. */
  async press(target: Locator, key = 'Enter'): Promise<void> {
    await this.to(target);
    await this.#page.keyboard.press(key);
  }

  /** Goes to a field, types over what is in it and takes it over. */
  async fill(target: Locator, text: string): Promise<void> {
    await this.to(target);
    await this.#page.keyboard.press('Control+a');
    await this.#page.keyboard.type(text);
  }

  /** After something was done: the focus must be somewhere to go on from, not at the top of the page again. */
  async keeps(after: string): Promise<void> {
    const isLost = (): Promise<boolean> =>
      this.#page.evaluate(() => document.activeElement === null || document.activeElement === document.body);
    // What takes the place of a button may need a moment to be drawn.
    for (let i = 0; i < 20 && (await isLost()); i++) await this.#page.waitForTimeout(50);
    if (await isLost()) this.faults.push(`the focus is lost after: ${after}`);
  }

  async #look(): Promise<void> {
    const fault = await this.#page.evaluate(() => {
      const at = document.activeElement;
      // Between the last stop and the first one the browser's own frame has its turn.
      if (at === null || at === document.body || at === document.documentElement) return null;
      const what = at.outerHTML.replace(/\s+/g, ' ').slice(0, 140);
      const focus = getComputedStyle(document.documentElement).getPropertyValue('--focus');
      const probe = document.createElement('i');
      probe.style.setProperty('color', focus);
      document.body.append(probe);
      const colour = getComputedStyle(probe).color;
      probe.remove();
      const shown = [at, at.closest('label'), at.closest('.drop'), ...at.querySelectorAll('*')].some(
        (one) => {
          if (!one) return false;
          const style = getComputedStyle(one);
          const isOutlined = style.outlineStyle !== 'none' && Number.parseFloat(style.outlineWidth) >= 2;
          return (isOutlined && style.outlineColor === colour) || style.stroke === colour;
        },
      );
      if (!shown) return `shows no focus: ${what}`;
      const target = at.closest('label.button, label.drop, .choice-row label') ?? at;
      const { left, right, top, bottom } = target.getBoundingClientRect();
      const isSeen = [0.5, 0.1, 0.9].some((u) =>
        [0.5, 0.15, 0.85].some((v) => {
          const there = document.elementFromPoint(left + (right - left) * u, top + (bottom - top) * v);
          return there !== null && (target.contains(there) || there.contains(target));
        }),
      );
      return isSeen ? null : `is hidden: ${what}`;
    });
    if (fault !== null && !this.faults.includes(fault)) this.faults.push(fault);
  }
}
