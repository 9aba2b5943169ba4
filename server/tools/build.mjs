// Bundles what users run into dist/: the launcher that `bin` names, the command, `lint` by itself, the loader that both start on other
// cores, the command's formats that need libraries, and the language server and the extension of VS Code, for Node and for browsers.
import { createHash } from 'node:crypto';
import { chmodSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { build } from 'esbuild';

const require = createRequire(import.meta.url);
const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'));
const folder = new URL('../../dist/', import.meta.url);
const unknownBuild = 'build-id-not-yet-known';

/** `yaml` is a quarter of the code and few runs need it: it is evaluated when one of its exports is first used. */
const lazyYaml = {
  name: 'lazy-yaml',
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /^yaml$/ }, ({ importer }) =>
      importer.includes('node_modules') ? undefined : { path: 'yaml', namespace: 'lazy' },
    );
    onResolve({ filter: /^real-yaml$/ }, () => ({ path: require.resolve('yaml') }));
    onLoad({ filter: /.*/, namespace: 'lazy' }, () => ({
      contents: Object.keys(require('yaml'))
        .map(
          (name) =>
            `Object.defineProperty(exports, '${name}', { enumerable: true, get: () => require('real-yaml').${name} });`,
        )
        .join('\n'),
    }));
  },
};

const shared = {
  outdir: 'dist',
  write: false,
  bundle: true,
  minifySyntax: true,
  minifyWhitespace: true,
  legalComments: 'none',
  define: { SWAPLORE_VERSION: JSON.stringify(version), SWAPLORE_BUILD: JSON.stringify(unknownBuild) },
  logLevel: 'warning',
};

const forNode = await build({
  ...shared,
  entryPoints: {
    swaplore: 'server/src/main-launch.ts',
    'main-cli': 'server/src/main-cli.ts',
    'main-lint': 'server/src/main-lint.ts',
    'main-loader': 'server/src/main-loader.ts',
    'main-export': 'server/src/main-export.ts',
    'main-lsp-node': 'server/src/main-lsp-node.ts',
    'main-client-node': 'client/src/main-client-node.ts',
  },
  // The editor has it.
  external: ['vscode'],
  outExtension: { '.js': '.cjs' },
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  plugins: [lazyYaml],
});

// Nothing of Node can be found for a browser, so that using it fails the build.
const forBrowsers = await build({
  ...shared,
  entryPoints: { 'main-lsp-browser': 'server/src/main-lsp-browser.ts' },
  platform: 'browser',
  target: 'es2022',
  format: 'iife',
});
const forWebEditors = await build({
  ...shared,
  entryPoints: { 'main-client-browser': 'client/src/main-client-browser.ts' },
  outExtension: { '.js': '.cjs' },
  platform: 'browser',
  target: 'es2022',
  format: 'cjs',
  external: ['vscode'],
});
const outputFiles = [...forNode.outputFiles, ...forBrowsers.outputFiles, ...forWebEditors.outputFiles];

const digest = createHash('sha256');
for (const { text } of outputFiles) digest.update(text);
const buildId = digest.digest('hex').slice(0, unknownBuild.length);
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder);
for (const { path, text } of outputFiles) {
  const isLauncher = path.endsWith('swaplore.cjs');
  writeFileSync(path, `${isLauncher ? '#!/usr/bin/env node\n' : ''}${text.replaceAll(unknownBuild, buildId)}`);
  if (isLauncher) chmodSync(path, 0o755);
}
writeFileSync(new URL('sql-wasm.wasm', folder), readFileSync(require.resolve('sql.js/dist/sql-wasm.wasm')));
