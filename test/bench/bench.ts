/**
 * `npm run bench`: how long `swaplore lint` takes on generated bases, beside what reading and parsing the same files takes and beside
 * other tools. Everything is a whole process, and subjects take turns (A B C A B C …), so that all suffer alike from a busy machine.
 */
import { execFileSync } from 'node:child_process';
import { cpus, totalmem } from 'node:os';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { type Compared, compareExports } from '../harness/compare-exports.ts';
import { type CachedBase, cachedBase } from './base/base-cache.ts';
import { generatorVersion } from './base/make-base.ts';
import { reviewedBase } from './base/reviewed-base.ts';
import { isSize, type Size, sizes } from './base/sizes.ts';
import { toEditLines, toJointLines, toSizeLines, toTargetLines } from './comparisons.ts';
import { donorsReport } from './donors/donors-bench.ts';
import { editorTable } from './editor/editor-bench.ts';
import { editTimes, jointFigures } from './in-process.ts';
import { baseOfOneFile, measureSize } from './measure-size.ts';
import { measureTargets } from './measure-targets.ts';
import { oddsReport } from './odds/odds-bench.ts';
import { buildPrograms } from './programs.ts';
import { serverTable } from './server/server-bench.ts';
import { ownServer, peerServer, peerVersion } from './server/servers.ts';
import type { SizeResult } from './size-result.ts';
import {
  countedRows,
  exportSubjects,
  reportSubjects,
  reviewSubjects,
  type Subject,
  startSubjects,
  subjects,
  tables,
} from './subjects.ts';
import { toTable } from './table.ts';
import { toTargetTable } from './target-table.ts';
import { trialsReport } from './trials/trials-bench.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

interface Options {
  readonly measure: Measure;
  readonly sizes: readonly Size[];
  readonly runs: number;
  readonly seed: string;
  readonly faults: number;
  /** Shops to draw for each figure. */
  readonly shops: number;
}

/** Something that can be measured, by the option that asks for it: `command` where none does. */
interface Measure {
  readonly describe: string;
  /** Sizes of generated bases unless others are asked for; absent where it draws bases of its own. */
  readonly sizes?: readonly Size[];
  readonly report: (options: Options, bases: readonly CachedBase[]) => string | Promise<string>;
}

const measures = {
  command: {
    describe: 'the command line, beside reading, parsing and another checker',
    sizes: ['S', 'M'],
    report: reportCommand,
  },
  server: { describe: 'the language server, beside another one', sizes: ['L'], report: reportServer },
  editor: { describe: 'how late extension hosts of VS Code are', sizes: ['L'], report: reportEditor },
  report: { describe: 'how long the pages of a base take', sizes: ['R'], report: reportPages },
  export: {
    describe: 'how long tables of a base take, and what DuckDB and sqlite3 read in them',
    sizes: ['L'],
    report: reportTables,
  },
  review: { describe: 'how long a review of five changed files takes', sizes: ['L'], report: reportReviews },
  odds: {
    describe: 'what the odds promise, against shops whose true rates are known',
    report: ({ seed, shops }) => oddsReport(seed, shops),
  },
  trials: {
    describe: 'how soon shops find what their swaps depend on, and plans of 10,000 spare drives',
    report: ({ seed, shops, runs }) => trialsReport(seed, shops, runs),
  },
  targets: { describe: 'everything that is aimed for, in one table', sizes: ['M', 'L', 'R'], report: reportTargets },
  donors: { describe: 'rankings of 10,000 spare drives', report: ({ seed, runs }) => donorsReport(seed, runs) },
} as const satisfies Readonly<Record<string, Measure>>;

const usage = `usage: npm run bench -- [--MEASURE] [options]
${Object.entries(measures)
  .map(([name, { describe }]) => `  ${(name === 'command' ? '(none)' : `--${name}`).padEnd(14)}${describe}`)
  .join('\n')}
options:
  --size SIZE   ${Object.keys(sizes).join(', ')}; may be given several times
  --runs N      how often each is measured (default: 3)
  --seed SEED   which base to generate (default: 1)
  --faults N    faults to plant in the base (default: 0)
  --shops N     shops to draw for each figure of odds and trials (default: 200)
`;

/** The options of the command line; undefined where the usage is asked for or needed. */
function readOptions(): Options | undefined {
  const values = parseCommandLine();
  if (!values || values.help === true) return undefined;
  const [name = 'command', ...others] = Object.keys(measures).filter((one) => values[one] === true);
  const measure: Measure = measures[name as keyof typeof measures];
  const { size = measure.sizes ?? [], seed } = values;
  const wanted = size.filter(isSize);
  const [runs, faults, shops] = [Number(values.runs), Number(values.faults), Number(values.shops)];
  const isUsable =
    others.length === 0 &&
    wanted.length === size.length &&
    !(['server', 'review', 'targets'].includes(name) && size.includes('big')) &&
    isCount(runs, 1) &&
    isCount(faults, 0) &&
    isCount(shops, 1) &&
    /^[\w-]+$/.test(seed);
  return isUsable ? { measure, sizes: wanted, runs, seed, faults, shops } : undefined;
}

function parseCommandLine() {
  const flags = Object.keys(measures).map((name) => [name, { type: 'boolean' }] as const);
  try {
    return parseArgs({
      options: {
        ...Object.fromEntries(flags),
        size: { type: 'string', multiple: true },
        runs: { type: 'string', default: '3' },
        seed: { type: 'string', default: '1' },
        faults: { type: 'string', default: '0' },
        shops: { type: 'string', default: '200' },
        help: { type: 'boolean', default: false },
      },
    }).values as { [flag: string]: unknown } & Readonly<Record<'runs' | 'seed' | 'faults' | 'shops', string>> & {
        readonly size?: readonly string[];
      };
  } catch {
    return undefined;
  }
}

function isCount(value: number, least: number): boolean {
  return Number.isInteger(value) && value >= least;
}

function describeRun(options: Options, bases: readonly CachedBase[]): string {
  const [cpu] = cpus();
  const machine = [
    cpu?.model.trim() ?? 'unknown processor',
    `${cpus().length} cores`,
    `${Math.round(totalmem() / 1e9)} GB`,
    `${process.platform} ${process.arch}`,
    `Node ${process.versions.node}`,
  ].join(', ');
  const data = options.sizes.map((size, position) => {
    const { files = 0, bytes = 0 } = bases[position] ?? {};
    return `${size} = ${files.toLocaleString('en-GB')} ${files === 1 ? 'file' : 'files'}, ${(bytes / 1e6).toFixed(2)} MB`;
  });
  return [
    `Seed ${options.seed}, generator ${generatorVersion}, ${options.faults} faults planted; runs: ${options.runs}, taking turns.`,
    `${machine}.`,
    `${data.join('; ')}.`,
  ].join('\n');
}

const commandNote = `Whole processes: medians, ± half the range. "Lint ÷": time of a cold lint divided
by that of the row, by wall and by processor time, the median of the ratios
within each run. Cold: nothing remembered but compiled code. ajv-cli checks
schemas alone, on a twin of the base with one record a file, in one process for
each of the six schemas. "Rules × rules" holds 400 laws of 20 families against
each other, on a base of its own, the same for every size.`;

const pagesNote = `Whole processes: medians, ± half the range. Pages of the base, of its findings and of
each family, all checks included; what was read before is remembered.`;

const tablesNote = `Whole processes: medians, ± half the range. Tables with all checks run; what was read before is
remembered. DuckDB counts rows in Parquet and holds CSV and JSON lines against them; sqlite3 reads
the database.`;

const reviewNote = `Whole processes: medians, ± half the range; peaks without those of git. Cold but for
compiled code, except "again". Five files differ: a rule, a board, three outcomes.`;

const serverNote = `Over standard input and output, as an editor sees it; measurements of all runs
together. Peer: yaml-language-server ${peerVersion}, the same files and schemas; it reads no
base, and waits ${peerServer.debounceMs} ms for another key where we wait ${ownServer.debounceMs}. Cold: nothing remembered but
compiled code. The file of 5,000 lines belongs to the base, and 20 contradictions
are planted. "÷": ours divided by the peer's.`;

const editorNote = `Extension hosts with the extension and nothing else of note, from their start until
the base is checked. In a browser nothing but lateness of timers can be measured,
and files come through the editor.`;

async function main(): Promise<number> {
  const options = readOptions();
  if (!options) {
    process.stderr.write(usage);
    return 2;
  }
  if (options.sizes.length > 0)
    execFileSync(process.execPath, ['server/tools/build.mjs'], { cwd: root, stdio: 'inherit' });
  const bases = options.sizes.map((size) => cachedBase({ size, seed: options.seed, faults: options.faults }));
  process.stdout.write(`${await options.measure.report(options, bases)}\n`);
  return 0;
}

async function reportCommand(options: Options, bases: readonly CachedBase[]): Promise<string> {
  await buildPrograms();
  const start = measureSize(baseOfOneFile(), 'one', startSubjects, 4 * options.runs);
  const results = sizesOf(options, bases, subjects);
  const edits = results.map(({ size }, position) => ({ size, milliseconds: editTimes(bases[position]?.folder ?? '') }));
  const all = [start, ...results];
  const joint = options.sizes.includes('L') ? toJointLines(jointFigures()) : [];
  const lines = [...all.flatMap(toSizeLines), ...edits.flatMap(toEditLines), ...joint];
  return `${toTable(all)}\n\n${lines.join('\n')}\n\n${describeRun(options, bases)}\n${commandNote}`;
}

function sizesOf({ sizes: asked, runs }: Options, bases: readonly CachedBase[], all: readonly Subject[]): SizeResult[] {
  return asked.map((size, position) => measureSize(bases[position] as CachedBase, size, all, runs));
}

async function reportPages(options: Options, bases: readonly CachedBase[]): Promise<string> {
  await buildPrograms();
  const results = sizesOf(options, bases, reportSubjects);
  const lines = results.flatMap(toSizeLines).map((line) => `${line}\n`);
  return `${toTable(results)}\n${lines.join('')}\n${describeRun(options, bases)}\n${pagesNote}`;
}

async function reportTables(options: Options, bases: readonly CachedBase[]): Promise<string> {
  await buildPrograms();
  const results: SizeResult[] = [];
  const read: string[] = [];
  for (const [position, size] of options.sizes.entries()) {
    const base = bases[position] as CachedBase;
    results.push(measureSize(base, size, exportSubjects, options.runs));
    process.stderr.write(`size ${size}: tables read by other programs\n`);
    read.push(`${size}: ${readingWords(countedRows(base), await compareExports(tables))}`);
  }
  return `${toTable(results)}\n\n${read.join('\n')}\n\n${describeRun(options, bases)}\n${tablesNote}`;
}

/** What other programs found in the tables, beside the rows that the tool says there are. */
function readingWords(counted: Readonly<Record<string, number>>, compared: readonly Compared[]): string {
  const wrong = compared.flatMap(({ name, rows, differing }) => [
    ...(rows === counted[name] ? [] : [`${name} has ${rows} rows instead of ${counted[name]}`]),
    ...differing.map((format) => `${name} is another in ${format}`),
  ]);
  const rows = compared.reduce((sum, one) => sum + one.rows, 0);
  const found = `${compared.length} tables, ${rows.toLocaleString('en-GB')} rows`;
  return wrong.length === 0 ? `${found}, all alike in every format.` : `${found}; ${wrong.join('; ')}.`;
}

async function reportReviews(options: Options, bases: readonly CachedBase[]): Promise<string> {
  await buildPrograms();
  const results = sizesOf(options, bases.map(reviewedBase), reviewSubjects);
  const lines = results.flatMap((reviewed) => toTargetLines(reviewed.size, { reviewed })).join('\n');
  return `${toTable(results)}\n\n${lines}\n\n${describeRun(options, bases)}\n${reviewNote}`;
}

async function reportServer(options: Options, bases: readonly CachedBase[]): Promise<string> {
  const tables: string[] = [];
  for (const base of bases) tables.push(await serverTable(base, options.seed, options.runs));
  return `${tables.join('\n\n')}\n\n${describeRun(options, bases)}\n${serverNote}`;
}

async function reportEditor(options: Options, bases: readonly CachedBase[]): Promise<string> {
  const tables: string[] = [];
  for (const { folder } of bases) tables.push(await editorTable(folder, options.runs));
  return `${tables.join('\n\n')}\n\n${describeRun(options, bases)}\n${editorNote}`;
}

async function reportTargets(options: Options, bases: readonly CachedBase[]): Promise<string> {
  const [M, L = M, R = L] = bases;
  if (!M || !L || !R) throw new Error('There are bases');
  const table = toTargetTable(await measureTargets({ M, L, R }, options.seed, options.runs));
  const meant = measures.targets.sizes.join(', ');
  const asked = options.sizes.join(', ');
  return [
    `${table}\n`,
    ...(asked === meant ? [] : [`Tried out on ${asked} instead of ${meant}, for which these targets are not meant.`]),
    `Measured on ${new Date().toISOString().slice(0, 10)} in ${(performance.now() / 60_000).toFixed(1)} minutes.`,
    describeRun(options, bases),
  ].join('\n');
}

process.exitCode = await main();
