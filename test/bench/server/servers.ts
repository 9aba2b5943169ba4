import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { kinds } from '../../../server/src/core/terms/kinds.ts';
import { typingMs } from '../../../server/src/lsp/base-checker.ts';
import { cacheFolder } from '../base/base-cache.ts';
import type { LanguageServer } from './server-process.ts';

const root = fileURLToPath(new URL('../../..', import.meta.url));
const packages = createRequire(import.meta.url);
const peerPackage = packages.resolve('yaml-language-server/package.json');

/** What the server remembers during the bench, in place of the user's own. */
const remembered = join(cacheFolder, 'remembered-by-server');

/** The server that is measured, as an editor starts it. */
export const ownServer: LanguageServer = {
  name: 'swaplore',
  args: [join(root, 'dist/swaplore.cjs'), 'serve', '--stdio'],
  env: { XDG_CACHE_HOME: remembered },
  settings: () => ({}),
  debounceMs: typingMs,
};

/** Makes it forget the bases it knows. Compiled code stays. */
export function forgetBases(): void {
  if (!existsSync(remembered)) return;
  for (const entry of readdirSync(remembered, { withFileTypes: true, recursive: true })) {
    if (entry.isFile() && /^(facts|stamps|run-.*)$/.test(entry.name)) rmSync(join(entry.parentPath, entry.name));
  }
}

/** The schemas as the peer reads them: in one folder, as their ids have it. */
const schemaFolder = join(cacheFolder, 'schemas');
const byKind = 'by-kind';

/** The peer's version. */
export const peerVersion = (packages(peerPackage) as { readonly version: string }).version;

/** The peer: a language server for YAML of all sorts, which checks files against the same schemas and knows nothing of bases. */
export const peerServer: LanguageServer = {
  name: 'yaml-language-server',
  args: [join(dirname(peerPackage), 'bin/yaml-language-server'), '--stdio'],
  env: {},
  settings: () => ({
    yaml: {
      schemas: {
        [schemaUri('outcome')]: 'outcomes/**/*.yaml',
        [schemaUri('board')]: 'boards/**/*.yaml',
        [schemaUri(byKind)]: ['*.yaml', 'families/**/*.yaml'],
      },
      validate: true,
      hover: true,
      completion: true,
      schemaStore: { enable: false },
    },
  }),
  // Source: yaml-language-server 1.25.0, out/server/src/yamlSettings.js, `validationDelayMs`.
  debounceMs: 200,
};

/**
 * Writes the schemas for the peer, and one that holds every document against that of its kind. They do not say which draft they are:
 * otherwise the peer holds them against that draft's own schema whenever a text changes, which takes it half a second.
 */
export function writePeerSchemas(): void {
  mkdirSync(schemaFolder, { recursive: true });
  for (const name of [...kinds, 'common', 'gen/terms']) {
    const text = readFileSync(join(root, `schemas/${name}.schema.json`), 'utf8');
    writeSchema(basename(name), { ...(JSON.parse(text) as object), $schema: undefined });
  }
  const allOf = kinds.map((kind) => ({
    if: { properties: { kind: { const: kind } }, required: ['kind'] },
    // biome-ignore lint/suspicious/noThenProperty: the word of JSON Schema
    then: { $ref: `${kind}.schema.json` },
  }));
  writeSchema(byKind, { allOf });
}

function writeSchema(name: string, schema: object): void {
  writeFileSync(join(schemaFolder, `${name}.schema.json`), JSON.stringify(schema));
}

function schemaUri(name: string): string {
  return pathToFileURL(join(schemaFolder, `${name}.schema.json`)).href;
}
