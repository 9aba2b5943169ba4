import { readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build, type Plugin } from 'esbuild';

const folder = dirname(fileURLToPath(import.meta.url));

/** Bundled code knows only where the bundle is; tests read files beside themselves. */
const ownAddresses: Plugin = {
  name: 'own-addresses',
  setup({ onLoad }) {
    onLoad({ filter: /[/\\]test[/\\].*\.ts$/ }, ({ path }) => ({
      contents: readFileSync(path, 'utf8').replaceAll('import.meta.url', JSON.stringify(pathToFileURL(path).href)),
      loader: 'ts',
    }));
  },
};

/** Stryker's functions of a file: `…NS…` finds what they share, `…Cov…` counts, `…MutAct…` asks whether a mutant is tried. */
const ownFunctions = /function stryNS_9fa48[\s\S]*?^function stryMutAct_9fa48[\s\S]*?^\}$/m;
const calls = /\b(stryCov|stryMutAct)_9fa48\(((?:"\d+"(?:, )?)+)\)/g;

/** In the copy with the mutants: quick counters, and mutants by number. As it is, code holds none of this. */
const quickCounters: Plugin = {
  name: 'quick-counters',
  setup({ onLoad }) {
    const header = `import { reach as stryCov_9fa48, isActive as stryMutAct_9fa48 } from ${JSON.stringify(join(folder, 'counters.ts'))};`;
    onLoad({ filter: /[/\\]core[/\\].*\.ts$/ }, ({ path }) => {
      const text = readFileSync(path, 'utf8');
      if (!text.includes('stryNS_9fa48')) return undefined;
      const contents = text
        .replace(ownFunctions, () => header)
        .replace(calls, (_, name: string, ids: string) => `${name}_9fa48(${ids.replaceAll('"', '')})`);
      // A file whose mutants cannot be switched on would look as if no test noticed them.
      if (/stryNS_9fa48|9fa48\("/.test(contents)) throw new Error(`Stryker wrote something else into ${path}.`);
      return { contents, loader: 'ts' };
    });
  },
};

/**
 * One script with all files of tests and what they test. It exports a function for each file, by its path, which loads the file and
 * yields its tests; nothing of a file is evaluated before.
 *
 * @param root folder of the project whose tests are bundled, here the copy with the mutants
 */
export async function bundleTests(root: string, files: readonly string[]): Promise<string> {
  const loaders = files.map(
    (file) => `${JSON.stringify(file)}: () => collect(() => require(${JSON.stringify(`./${file}`)}))`,
  );
  const { outputFiles } = await build({
    stdin: {
      contents: `import { collect } from 'vitest';\nmodule.exports = { ${loaders.join(',\n')} };`,
      resolveDir: root,
    },
    bundle: true,
    write: false,
    platform: 'node',
    target: 'node20',
    format: 'cjs',
    alias: { vitest: join(folder, 'collected-tests.ts') },
    nodePaths: [join(folder, 'node_modules')],
    external: ['fast-check', 'typescript', 'z3-solver', 'yaml', 'ajv', 'playwright-core', 'esbuild', 'sql.js'],
    plugins: [ownAddresses, quickCounters],
    logLevel: 'error',
    absWorkingDir: resolve(root),
  });
  return outputFiles[0]?.text ?? '';
}
