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
    plugins: [ownAddresses],
    logLevel: 'error',
    absWorkingDir: resolve(root),
  });
  return outputFiles[0]?.text ?? '';
}
