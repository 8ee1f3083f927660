import { defineConfig } from 'vite';

/** The page: built into `dist/client`, from where the server gives it out; in development beside a server on 4680. */
export default defineConfig({
  root: new URL('.', import.meta.url).pathname,
  base: '/',
  publicDir: 'public',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    outDir: '../dist/client',
    emptyOutDir: true,
    target: 'es2023',
    // Nothing inline: the page's content-security policy allows files of this server alone.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    sourcemap: true,
    // One page, loaded once from the machine it runs on; a good part of it is the schema library and its words.
    chunkSizeWarningLimit: 1200,
    // How long plugins took is no warning about the page.
    rolldownOptions: { checks: { pluginTimings: false } },
  },
  worker: { format: 'es' },
  server: { port: 4681, proxy: { '/api': 'http://127.0.0.1:4680' } },
});
