import { createHash } from 'node:crypto';
import { readdirSync } from 'node:fs';
import { build, defineConfig, type Plugin } from 'vite';

const here = (path: string): string => new URL(path, import.meta.url).pathname;

/**
 * Builds the service worker as one file of its own, which knows the names of all files of the page. It decides for the
 * addresses below its own, so it lies at the top.
 */
function serviceWorker(): Plugin {
  return {
    name: 'clothlay:service-worker',
    apply: 'build',
    enforce: 'post',
    async generateBundle(_options, bundle) {
      const index = bundle['index.html'];
      const built = Object.keys(bundle).filter((name) => !name.endsWith('.map') && name !== 'index.html');
      const files = [...built, ...readdirSync(here('public'))].sort().map((name) => `/${name}`);
      const id = createHash('sha256')
        .update(files.join('\n'))
        .update(index?.type === 'asset' ? index.source : '')
        .digest('hex')
        .slice(0, 16);
      const made = await build({
        configFile: false,
        root: here('.'),
        publicDir: false,
        logLevel: 'warn',
        build: {
          write: false,
          target: 'es2023',
          rolldownOptions: { input: here('offline/serviceWorker.ts'), output: { format: 'iife' } },
        },
      });
      const [chunk] = 'output' in made ? made.output : [];
      if (chunk?.type !== 'chunk') this.error('the service worker was not built');
      const source = `const BUILD = ${JSON.stringify({ id, files })};\n${chunk.code}`;
      this.emitFile({ type: 'asset', fileName: 'sw.js', source });
    },
  };
}

/** The page: built into `dist/client`, from where the server gives it out; in development beside a server on 4680. */
export default defineConfig({
  root: here('.'),
  base: '/',
  publicDir: 'public',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  plugins: [serviceWorker()],
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
