import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync, gzipSync } from 'node:zlib';
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

/** Smaller files gain nothing by being packed. */
const WORTH_PACKING_BYTES = 1_000;

/** Leaves packed twins beside the written scripts and styles, for the server to give out. */
function packedTwins(): Plugin {
  return {
    name: 'clothlay:packed-twins',
    apply: 'build',
    writeBundle({ dir }, bundle) {
      for (const name of Object.keys(bundle)) {
        if (dir === undefined || !/^assets\/.*\.(js|css)$/.test(name)) continue;
        const file = join(dir, name);
        const source = readFileSync(file);
        if (source.length < WORTH_PACKING_BYTES) continue;
        writeFileSync(`${file}.br`, brotliCompressSync(source));
        writeFileSync(`${file}.gz`, gzipSync(source, { level: 9 }));
      }
    },
  };
}

interface Modules {
  getModuleInfo(id: string): { readonly importers: readonly string[]; readonly isEntry: boolean } | null;
}

/** Whether a module is needed before anything is shown: an entry reaches it by plain imports. */
function isOfTheStart(id: string, modules: Modules): boolean {
  const seen = new Set([id]);
  for (const at of seen) {
    const module = modules.getModuleInfo(at);
    if (module?.isEntry) return true;
    for (const importer of module?.importers ?? []) seen.add(importer);
  }
  return false;
}

/** The page: built into `dist/client`, from where the server gives it out; in development beside a server on 4680. */
export default defineConfig({
  root: here('.'),
  base: '/',
  publicDir: 'public',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  plugins: [serviceWorker(), packedTwins()],
  build: {
    outDir: '../dist/client',
    emptyOutDir: true,
    target: 'es2023',
    // Nothing inline: the page's content-security policy allows files of this server alone.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    sourcemap: true,
    // The file that everything begins with; tests/browser/loading.test.ts holds what is fetched for the first screen to its limit.
    chunkSizeWarningLimit: 600,
    rolldownOptions: {
      // How long plugins took is no warning about the page.
      checks: { pluginTimings: false },
      // What the first screen needs is one file instead of thirty; the views that come later are split as they are imported.
      output: {
        codeSplitting: {
          groups: [{ name: (id, modules) => (isOfTheStart(id, modules) ? 'start' : null) }],
        },
      },
    },
  },
  worker: { format: 'es' },
  server: { port: 4681, proxy: { '/api': 'http://127.0.0.1:4680' } },
});
