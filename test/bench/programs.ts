import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { cacheFolder } from './base/base-cache.ts';

const source = fileURLToPath(new URL('programs', import.meta.url));
const target = join(cacheFolder, 'programs');

/** The programs that run as processes of their own, each bundled into one file, so that none pays for loading many. */
export const programs = {
  readFiles: join(target, 'read-files.mjs'),
  hashFiles: join(target, 'hash-files.mjs'),
  loadWithJsYaml: join(target, 'load-with-js-yaml.mjs'),
  parseWithYaml: join(target, 'parse-with-yaml.mjs'),
  empty: join(target, 'empty.mjs'),
  editInProcess: join(target, 'edit-in-process.mjs'),
  reason: join(target, 'reason.mjs'),
  relateRules: join(target, 'relate-rules.mjs'),
  contradictions: join(target, 'contradictions.mjs'),
  measureSteps: join(target, 'measure-steps.mjs'),
  reportUsage: join(target, 'report-usage.cjs'),
  useJsYaml4: join(target, 'use-js-yaml-4.cjs'),
  ajvFormats: join(target, 'ajv-formats.cjs'),
} as const;

/** Bundles the programs anew. */
export async function buildPrograms(): Promise<void> {
  await Promise.all(Object.values(programs).map(buildProgram));
}

async function buildProgram(outfile: string): Promise<void> {
  const isModule = outfile.endsWith('.mjs');
  const name = outfile.slice(target.length + 1, -'.mjs'.length);
  await build({
    entryPoints: [join(source, `${name}.ts`)],
    outfile,
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: isModule ? 'esm' : 'cjs',
    // The `yaml` package asks for Node's own modules with `require`; and ajv-cli takes a module that is a function.
    ...(isModule
      ? {
          banner: {
            js: "import { createRequire } from 'node:module';\nconst require = createRequire(import.meta.url);",
          },
        }
      : { footer: { js: 'if (module.exports.default) module.exports = module.exports.default;' } }),
    logLevel: 'warning',
  });
}
