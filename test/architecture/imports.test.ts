import { posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { importsOf, parseSource, type SourceFile, sourceFiles } from '../harness/source-files.ts';

/** The folders of the core. Each may import itself and those before it. */
const layers = [
  'text',
  'terms',
  'syntax',
  'schema',
  'edits',
  'model',
  'captures',
  'rom-images',
  'index',
  'conditions',
  'solver',
  'verdicts',
  'reasoning',
  'odds',
  'checks',
  'features',
  'recording',
  'importing',
  'donors',
  'explanations',
  'trials',
  'review',
  'exporting',
  'starting',
  'reports',
].map((layer) => `server/src/core/${layer}`);

const core = 'server/src/core';
const host = 'server/src/host';
const disk = 'server/src/host/disk';
const git = 'server/src/host/git';
const lsp = 'server/src/lsp';
const cli = 'server/src/cli';
const client = 'client/src';
const generated = 'schemas/gen';

/** Who may import what. `files` and `may` are paths or folders; for a file the longest entry that fits it counts. */
interface Row {
  readonly files: string;
  readonly may: readonly string[];
  readonly packages?: readonly string[];
}

const table: readonly Row[] = [
  // The solver stands beside the spine: of what lies left of it, it knows conditions and mere words and numbers.
  {
    files: `${core}/solver`,
    may: [generated, ...['text', 'terms', 'conditions', 'solver'].map((name) => `${core}/${name}`)],
  },
  ...layers.map((layer, position) => ({ files: layer, may: [generated, ...layers.slice(0, position + 1)] })),
  { files: `${core}/text/sha256.ts`, may: [], packages: ['@noble/hashes/sha2.js'] },
  { files: `${core}/syntax/read-with-yaml.ts`, may: [`${core}/syntax`, `${core}/text`], packages: ['yaml'] },
  { files: `${core}/syntax/syntax-reasons.ts`, may: [], packages: ['yaml'] },
  { files: host, may: [core, host] },
  { files: `${host}/content-id.ts`, may: [], packages: ['@noble/hashes/legacy.js'] },
  {
    files: `${host}/serial-digest.ts`,
    may: [],
    packages: ['@noble/hashes/hmac.js', '@noble/hashes/sha2.js'],
  },
  { files: disk, may: [core, host], packages: ['node:'] },
  { files: git, may: [core, host], packages: ['node:'] },
  { files: `${disk}/write-parquet.ts`, may: [core, disk], packages: ['node:', 'hyparquet-writer'] },
  { files: `${disk}/write-sqlite.ts`, may: [core, disk], packages: ['node:', 'sql.js'] },
  { files: `${disk}/parse-table.ts`, may: [`${core}/importing`, generated], packages: ['node:', 'csv-parse/sync'] },
  { files: lsp, may: [core, host, lsp], packages: ['vscode-languageserver', 'vscode-uri'] },
  {
    files: `${lsp}/protocol.ts`,
    may: [
      `${host}/client-store.ts`,
      `${core}/features/base-tree.ts`,
      `${core}/recording`,
      `${core}/reports/report-name.ts`,
      `${core}/rom-images/image-size.ts`,
    ],
    packages: ['vscode-languageserver', 'vscode-languageserver-protocol'],
  },
  { files: cli, may: [core, host, cli], packages: ['node:'] },
  { files: `${cli}/answer-in-terminal.ts`, may: [core, cli], packages: ['@clack/prompts'] },
  { files: 'server/src/main-cli.ts', may: [cli], packages: [] },
  { files: 'server/src/main-lint.ts', may: [cli], packages: [] },
  { files: 'server/src/main-export.ts', may: [disk], packages: ['node:'] },
  { files: 'server/src/main-launch.ts', may: [disk], packages: ['node:'] },
  {
    files: 'server/src/main-lsp-browser.ts',
    may: [lsp, `${host}/client-store.ts`, `${host}/system-day.ts`],
    packages: ['vscode-languageserver/browser'],
  },
  { files: 'server/src/main-lsp-node.ts', may: [lsp, host], packages: ['node:', 'vscode-languageserver/node'] },
  { files: 'server/src/main-loader.ts', may: [disk], packages: ['node:'] },
  {
    files: client,
    may: [client, `${lsp}/protocol.ts`, `${lsp}/command-rows.ts`],
    packages: ['vscode', 'vscode-languageclient'],
  },
  { files: `${client}/command-rows.ts`, may: [] },
  { files: `${client}/view-rows.ts`, may: [`${client}/command-rows.ts`] },
  {
    files: `${client}/main-client-node.ts`,
    may: [client],
    packages: ['vscode', 'vscode-languageclient/node'],
  },
  {
    files: `${client}/main-client-browser.ts`,
    may: [client],
    packages: ['vscode', 'vscode-languageclient/browser'],
  },
  { files: generated, may: [generated, `${core}/schema/formats.ts`] },
  { files: 'schemas/tools', may: [core, 'schemas/tools'], packages: ['node:', 'ajv/', 'yaml'] },
  {
    files: 'schemas/tools/extension-manifest.ts',
    may: [
      ...['command-rows', 'view-rows'].map((rows) => `${client}/${rows}.ts`),
      `${lsp}/command-rows.ts`,
      `${lsp}/settings.ts`,
    ],
  },
];

/** Imports of a file that the table does not allow. */
function breachesOf(file: SourceFile): string[] {
  const row = rowOf(file.path);
  if (!row) return [`${file.path} stands in no row of the table`];
  return importsOf(file).flatMap((specifier) => {
    const isAllowed = specifier.startsWith('.')
      ? row.may.some((allowed) => isWithin(posix.join(posix.dirname(file.path), specifier), allowed))
      : (row.packages ?? []).some((allowed) => isPackage(specifier, allowed));
    return isAllowed ? [] : [`${file.path} imports ${specifier}`];
  });
}

function rowOf(path: string): Row | undefined {
  const rows = table.filter((row) => isWithin(path, row.files));
  return rows.sort((a, b) => b.files.length - a.files.length)[0];
}

function isWithin(path: string, folder: string): boolean {
  return path === folder || path.startsWith(`${folder}/`);
}

function isPackage(specifier: string, allowed: string): boolean {
  return /[:/]$/.test(allowed) ? specifier.startsWith(allowed) : specifier === allowed;
}

const files = [...sourceFiles('client'), ...sourceFiles('server/src'), ...sourceFiles('schemas')];

it('every file imports only what the table allows', () => {
  expect(files.length).toBeGreaterThan(80);
  expect(files.flatMap(breachesOf)).toEqual([]);
});

it('every row of the table is about a file there is', () => {
  expect(
    table.map(({ files: name }) => name).filter((name) => !files.some(({ path }) => isWithin(path, name))),
  ).toEqual([]);
});

it('two files alone start other programs: one what asks drives, one git', () => {
  const starting = files.filter((file) => importsOf(file).some((name) => /\b(?:child_process|cluster)$/.test(name)));
  expect(starting.map(({ path }) => path)).toEqual([`${disk}/run-utility.ts`, `${git}/run-git.ts`]);
});

it('relative imports name a file there is, with its ending', () => {
  const paths = new Set(files.map(({ path }) => path));
  const missing = files.flatMap((file) =>
    importsOf(file)
      .filter((specifier) => specifier.startsWith('.'))
      .filter((specifier) => !paths.has(posix.join(posix.dirname(file.path), specifier)))
      .map((specifier) => `${file.path} imports ${specifier}`),
  );
  expect(missing).toEqual([]);
});

it('no file imports itself, by whatever way', () => {
  const imports = new Map(
    files.map((file) => [
      file.path,
      importsOf(file)
        .filter((specifier) => specifier.startsWith('.'))
        .map((specifier) => posix.join(posix.dirname(file.path), specifier)),
    ]),
  );
  const finished = new Set<string>();
  const circles: string[] = [];
  const walk = (path: string, way: readonly string[]): void => {
    if (way.includes(path)) circles.push([...way.slice(way.indexOf(path)), path].join(' > '));
    else if (!finished.has(path)) {
      for (const next of imports.get(path) ?? []) walk(next, [...way, path]);
      finished.add(path);
    }
  };
  for (const { path } of files) walk(path, []);
  expect(circles).toEqual([]);
});

describe('the guard itself', () => {
  it.each([
    ['server/src/core/terms/a.ts', "import { a } from '../syntax/tape.ts';"],
    ['server/src/core/text/a.ts', "import type { Kind } from '../terms/kinds.ts';"],
    ['server/src/core/checks/a.ts', "export * from '../reports/document.ts';"],
    ['server/src/core/model/a.ts', "import { parse } from 'yaml';"],
    ['server/src/core/syntax/a.ts', "import { parse } from 'yaml';"],
    ['server/src/core/text/a.ts', "import { readFileSync } from 'node:fs';"],
    ['server/src/core/text/a.ts', "const fs = await import('node:fs');"],
    ['server/src/core/text/a.ts', "const fs = require('node:fs');"],
    ['server/src/core/text/a.ts', "type Stats = import('node:fs').Stats;"],
    ['server/src/core/checks/a.ts', "import { DiskHost } from '../../host/disk/disk-host.ts';"],
    ['server/src/core/solver/a.ts', "import type { Snapshot } from '../index/snapshot.ts';"],
    ['server/src/core/a.ts', ''],
    ['server/src/core/novelty/a.ts', ''],
    ['server/src/host/memory.ts', "import { join } from 'node:path';"],
    ['server/src/host/memory.ts', "import { runCli } from '../cli/run-cli.ts';"],
    ['server/src/cli/a.ts', "import { serve } from '../lsp/serve.ts';"],
    ['server/src/cli/a.ts', "import { keyNodes } from '../../../schemas/gen/key-table.ts';"],
    ['server/src/cli/a.ts', "import { parse } from 'yaml';"],
    ['server/src/lsp/a.ts', "import { readFileSync } from 'node:fs';"],
    ['server/src/lsp/a.ts', "import { runCli } from '../cli/run-cli.ts';"],
    ['server/src/host/client-store.ts', "import { startServer } from '../lsp/server.ts';"],
    ['server/src/main-lsp-browser.ts', "import { performance } from 'node:perf_hooks';"],
    ['server/src/main-lsp-browser.ts', "import { DiskStore } from './host/disk/disk-store.ts';"],
    ['client/a.ts', ''],
    ['client/src/a.ts', "import { join } from 'node:path';"],
    ['client/src/a.ts', "import { readSettings } from '../../server/src/lsp/settings.ts';"],
    ['client/src/a.ts', "import type { Finding } from '../../server/src/core/checks/finding.ts';"],
    ['client/src/a.ts', "import { LanguageClient } from 'vscode-languageclient/node';"],
    ['client/src/command-rows.ts', "import { commands } from 'vscode';"],
    ['schemas/gen/a.ts', "import { kinds } from '../../server/src/core/terms/kinds.ts';"],
    ['schemas/tools/a.ts', "import { readConfig } from '../gen/validators.js';"],
  ])('refuses in %s: %s', (path, text) => {
    expect(breachesOf(parseSource(path, text))).toHaveLength(1);
  });

  it('allows what lies to the left', () => {
    const text =
      "import { a } from '../text/fold.ts'; import { b } from '../checks/finding.ts'; import './document.ts';";
    expect(breachesOf(parseSource('server/src/core/reports/a.ts', text))).toEqual([]);
  });

  it('is not misled by texts that look like imports', () => {
    const text = "const line = `import { readFileSync } from 'node:fs';`; // import 'node:fs'";
    expect(breachesOf(parseSource('server/src/core/text/a.ts', text))).toEqual([]);
  });
});
