import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { kinds } from '../../server/src/core/terms/kinds.ts';
import { exportFormats } from '../harness/compare-exports.ts';
import { type CachedBase, cacheFolder } from './base/base-cache.ts';
import { makeContradictions } from './base/contradictions.ts';
import { manyRules } from './base/many-rules.ts';
import type { Step } from './measure.ts';
import { programs } from './programs.ts';

/** Something that is timed on every base: a floor, a peer, or the tool itself. */
export interface Subject {
  readonly name: string;
  /** Done before each run and not timed. */
  readonly prepare?: (base: CachedBase) => void;
  readonly steps: (base: CachedBase) => readonly Step[];
  /** Done after each run and not timed. */
  readonly tidy?: (base: CachedBase) => void;
  /** Bytes it reads. */
  readonly bytes: (base: CachedBase) => number;
  readonly exitCodes: readonly number[];
}

const root = fileURLToPath(new URL('../..', import.meta.url));
const packages = createRequire(import.meta.url);
const command = join(root, 'dist/swaplore.cjs');

/** What the tool remembers during the bench, in place of the user's own. */
const remembered = join(cacheFolder, 'remembered');

/** Where pages are written to. */
const pages = join(cacheFolder, 'pages');

const readFiles = floor('read all files', programs.readFiles);

/** Reading everything and hashing it: what a lint that remembers cannot well do without. */
export const hashFiles = floor('read + SHA-1', programs.hashFiles);
export const jsYaml = floor(`js-yaml ${versionOf('js-yaml')} load`, programs.loadWithJsYaml);
const yaml = floor(`yaml ${versionOf('yaml')} parse only`, programs.parseWithYaml);

/** The peer from the registry that is quickest. */
export const ajvCli: Subject = {
  name: `ajv-cli ${versionOf('ajv-cli')} schemas`,
  steps: ({ twin }) => kinds.map((kind) => ({ args: ajvArguments(kind), cwd: twin.folder })),
  bytes: ({ twin }) => twin.bytes,
  exitCodes: [0],
};

/** The tool on a base it has never seen. It keeps what it finds, and that is in the time; compiled code is there from before. */
export const coldLint: Subject = {
  ...tool('swaplore lint', lintArguments),
  prepare: () => forget(/^(facts|stamps|checked|found-.*|run-.*)$/),
};

/** The tool once more, nothing changed. */
export const warmLint = tool('  again', lintArguments);

/** The tool once more after a value was edited that counts. */
export const editedLint = afterEdit('  one file edited', editedFile, (text) =>
  text.replace(/^reached: .*$/m, (line) => (line.includes('nothing') ? 'reached: spins' : 'reached: nothing')),
);

/** The same where joint reasoning has to run again: the failed swap of a contradiction worked, and the contradiction is none. */
export const jointlyEditedLint = afterEdit('  joint, edited', contradictoryFile, (text) =>
  text.replace(/^reached: .*$/m, 'reached: reads').replace(/^result: .*$/m, 'result: works'),
);

/** All that is measured on bases of records, in the order in which it is run. */
export const subjects: readonly Subject[] = [
  readFiles,
  hashFiles,
  jsYaml,
  yaml,
  ajvCli,
  {
    name: 'rules × rules, 400',
    steps: ({ folder }) => [{ args: [programs.relateRules], cwd: folder }],
    bytes: () => manyRules().reduce((sum, { text }) => sum + Buffer.byteLength(text), 0),
    exitCodes: [0],
  },
  coldLint,
  warmLint,
  editedLint,
];

/** The tool writing the pages of a base it has read before into an empty folder. */
export const writePages: Subject = {
  ...tool('swaplore report', () => ['report', '--out', pages]),
  prepare: () => rmSync(pages, { recursive: true, force: true }),
};

/** Pages beside a lint that does not write. */
export const reportSubjects: readonly Subject[] = [coldLint, writePages];

/** Where tables are written to, each format under its own name. */
export const tables = join(cacheFolder, 'tables');

/** The tool writing the tables of a base it has read before, format by format, beside a lint that does not write. */
export const exportSubjects: readonly Subject[] = [
  coldLint,
  ...exportFormats.map((format): Subject => {
    const out = join(tables, format);
    return {
      ...tool(`  export ${format}`, () => ['export', '--to', format, '--out', out]),
      prepare: () => rmSync(out, { recursive: true, force: true }),
    };
  }),
];

/** The rows of each table that the tool says are in the JSON lines of a base; it writes them anew. */
export function countedRows({ folder }: CachedBase): Readonly<Record<string, number>> {
  const out = join(tables, 'jsonl');
  rmSync(out, { recursive: true, force: true });
  const args = [command, 'export', '--to', 'jsonl', '--out', out, '--json'];
  const printed = execFileSync(process.execPath, args, { cwd: folder, encoding: 'utf8' });
  const { tables: written } = JSON.parse(printed) as { tables: readonly { name: string; rows: number }[] };
  return Object.fromEntries(written.map(({ name, rows }) => [name, rows]));
}

/** The tool on a change of five files that it has never seen, beside a lint of the same base that it has never seen either. */
export const reviewOfDisk: Subject = { ...coldLint, ...tool('swaplore review', () => ['review', '--base', 'HEAD~1']) };
export const reviewOfRevisions: Subject = {
  ...coldLint,
  ...tool('  of two revisions', () => ['review', '--base', 'HEAD~1', '--head', 'HEAD']),
};
const reviewAgain = tool('  again', () => ['review', '--base', 'HEAD~1']);

/** All that is measured on a base in a repository. */
export const reviewSubjects: readonly Subject[] = [coldLint, reviewOfDisk, reviewAgain, reviewOfRevisions];

/** A Node that does nothing: what no start can go below. */
export const emptyNode: Subject = {
  ...tool('empty Node', () => []),
  steps: ({ folder }) => [{ args: [programs.empty], cwd: folder }],
};

export const printVersion = tool('swaplore --version', () => ['--version']);

/** What is measured on a base of one file, to see what starting takes. */
export const startSubjects: readonly Subject[] = [emptyNode, printVersion, warmLint];

/** Makes the tool forget what it has found out in earlier runs, as far as the names of its files say so. */
function forget(name: RegExp): void {
  if (!existsSync(remembered)) return;
  for (const entry of readdirSync(remembered, { withFileTypes: true, recursive: true })) {
    if (entry.isFile() && name.test(entry.name)) rmSync(join(entry.parentPath, entry.name));
  }
}

/** The first file of an outcome, or of anything where outcomes have no files of their own. */
function editedFile(folder: string): string {
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.yaml'))
    .sort();
  const found = files.find((path) => path.startsWith('outcomes')) ?? files.find((path) => path !== 'swaplore.yaml');
  return join(folder, found ?? '');
}

/** The file in which the first planted contradiction shows. */
function contradictoryFile(folder: string): string {
  return join(folder, makeContradictions(1).planted[0]?.path ?? '');
}

function asideOf({ folder }: CachedBase): string {
  return join(dirname(folder), 'edited-file-as-it-was');
}

function lintArguments(folder: string): readonly string[] {
  return ['lint', folder];
}

function afterEdit(name: string, fileIn: (folder: string) => string, change: (text: string) => string): Subject {
  return {
    ...tool(name, lintArguments),
    prepare: (base) => {
      const path = fileIn(base.folder);
      const text = readFileSync(path, 'utf8');
      writeFileSync(asideOf(base), text);
      writeFileSync(path, change(text));
    },
    tidy: (base) => renameSync(asideOf(base), fileIn(base.folder)),
  };
}

function tool(name: string, args: (folder: string) => readonly string[]): Subject {
  return {
    name,
    steps: ({ folder }) => [{ args: [command, ...args(folder)], cwd: folder, env: { XDG_CACHE_HOME: remembered } }],
    bytes: (base) => base.bytes,
    exitCodes: [0, 1],
  };
}

function floor(name: string, program: string): Subject {
  return {
    name,
    steps: ({ folder }) => [{ args: [program, folder], cwd: folder }],
    bytes: (base) => base.bytes,
    exitCodes: [0],
  };
}

/** ajv-cli takes one schema at a time. It is not strict here, as it does not know our words for hovers. */
function ajvArguments(kind: string): readonly string[] {
  const schemas = join(root, 'schemas');
  return [
    ...['--require', programs.useJsYaml4],
    join(dirname(packages.resolve('ajv-cli/package.json')), 'dist/index.js'),
    ...['validate', '--spec=draft2020', '--strict=false', '-c', programs.ajvFormats],
    ...['-s', join(schemas, `${kind}.schema.json`)],
    ...['-r', join(schemas, 'common.schema.json'), '-r', join(schemas, 'gen/terms.schema.json')],
    ...['-d', `${kind}/*.yaml`],
  ];
}

function versionOf(name: string): string {
  return (packages(`${name}/package.json`) as { readonly version: string }).version;
}
