/** Light, dark, or as the system says: kept in this browser, since it is about the screen and not about the work. */
export type Theme = 'auto' | 'light' | 'dark';

const KEY = 'clothlay.theme';
export const THEMES: readonly Theme[] = ['auto', 'light', 'dark'];

export function readTheme(): Theme {
  try {
    const kept = localStorage.getItem(KEY);
    return THEMES.find((theme) => theme === kept) ?? 'auto';
  } catch {
    return 'auto';
  }
}

export function applyTheme(theme: Theme): void {
  if (theme === 'auto') document.documentElement.removeAttribute('data-theme');
  else document.documentElement.setAttribute('data-theme', theme);
  try {
    localStorage.setItem(KEY, theme);
  } catch {
    // A browser that keeps nothing shows the choice until the page is left.
  }
}
