/**
 * `npm run bench`: how long `swaplore lint` takes on generated bases, beside what reading and parsing the same files takes and beside
 * other tools. Everything is a whole process, and subjects take turns (A B C A B C …), so that all suffer alike from a busy machine.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { cpus, totalmem } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { type Compared, compareExports } from '../harness/compare-exports.ts';
import { type CachedBase, cachedBase, cacheFolder } from './base/base-cache.ts';
import { generatorVersion } from './base/make-base.ts';
import { reviewedBase } from './base/reviewed-base.ts';
import { isSize, type Size, sizes } from './base/sizes.ts';
import { type JointFigures, toComparisonLines, toJointLines, toReviewLines } from './comparisons.ts';
import { donorsReport } from './donors/donors-bench.ts';
import { editorTable } from './editor/editor-bench.ts';
import { type Measurement, measure } from './measure.ts';
import { oddsReport } from './odds/odds-bench.ts';
import { buildPrograms, programs } from './programs.ts';
import { serverTable } from './server/server-bench.ts';
import { ownServer, peerServer, peerVersion } from './server/servers.ts';
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
import { type SizeResult, toTable } from './table.ts';
import { trialsReport } from './trials/trials-bench.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

interface Options {
  readonly sizes: readonly Size[];
  readonly runs: number;
  readonly seed: string;
  readonly faults: number;
  /** Whether the language server is measured in place of the command line. */
  readonly isServer: boolean;
  /** Whether extension hosts are measured in place of the command line. */
  readonly isEditor: boolean;
  /** Whether the pages of a base are measured in place of its checks. */
  readonly isReport: boolean;
  /** Whether reviews of a change are measured in place of checks alone. */
  readonly isReview: boolean;
  /** Whether exports of a base are measured in place of its checks, and then read by other programs. */
  readonly isExport: boolean;
  /** Whether the promises of odds or of trials are held against shops that are drawn, in place of all measurements. */
  readonly simulates: 'odds' | 'trials' | undefined;
  /** Shops to draw for each figure. */
  readonly shops: number;
  /** Whether rankings of donors are timed in place of all else. */
  readonly isDonors: boolean;
}

const usage = `usage: npm run bench -- [options]
  --size SIZE   ${Object.keys(sizes).join(', ')}; may be given several times (default: S and M; with --server, --editor or
                --export L, with --report R)
  --runs N      how often each is measured (default: 3)
  --seed SEED   which base to generate (default: 1)
  --faults N    faults to plant in the base (default: 0)
  --server      measure the language server instead, beside another one
  --editor      measure how late extension hosts of VS Code are instead
  --report      measure how long the pages of a base take instead
  --review      measure how long a review of five changed files takes instead
  --export      measure how long tables of a base take instead, and have DuckDB and sqlite3 read them
  --odds        hold what the odds promise against shops whose true rates are known
  --trials      have shops find what their swaps depend on, and time plans of 10,000 spare drives
  --shops N     how many of them for each figure (default: 200)
  --donors      time rankings of 10,000 spare drives
`;

/** The options of the command line; undefined where the usage is asked for or needed. */
function readOptions(): Options | undefined {
  const values = parseCommandLine();
  if (!values || values.help) return undefined;
  const { server: isServer, editor: isEditor, report: isReport, review: isReview, export: isExport } = values;
  const { size = isReport ? ['R'] : isServer || isEditor || isReview || isExport ? ['L'] : ['S', 'M'] } = values;
  const wanted = size.filter(isSize);
  const [runs, faults, shops] = [Number(values.runs), Number(values.faults), Number(values.shops)];
  const isUsable =
    wanted.length === size.length &&
    !((isServer || isReview) && size.includes('big')) &&
    [isServer, isEditor, isReport, isReview, isExport].filter(Boolean).length < 2 &&
    isCount(runs, 1) &&
    isCount(faults, 0) &&
    isCount(shops, 1) &&
    /^[\w-]+$/.test(values.seed);
  if (!isUsable) return undefined;
  return {
    sizes: wanted,
    runs,
    seed: values.seed,
    faults,
    isServer,
    isEditor,
    isReport,
    isReview,
    isExport,
    simulates: values.odds ? 'odds' : values.trials ? 'trials' : undefined,
    shops,
    isDonors: values.donors,
  };
}

function parseCommandLine() {
  try {
    return parseArgs({
      options: {
        size: { type: 'string', multiple: true },
        runs: { type: 'string', default: '3' },
        seed: { type: 'string', default: '1' },
        faults: { type: 'string', default: '0' },
        server: { type: 'boolean', default: false },
        editor: { type: 'boolean', default: false },
        report: { type: 'boolean', default: false },
        review: { type: 'boolean', default: false },
        export: { type: 'boolean', default: false },
        odds: { type: 'boolean', default: false },
        trials: { type: 'boolean', default: false },
        donors: { type: 'boolean', default: false },
        shops: { type: 'string', default: '200' },
        help: { type: 'boolean', default: false },
      },
    }).values;
  } catch {
    return undefined;
  }
}

function isCount(value: number, least: number): boolean {
  return Number.isInteger(value) && value >= least;
}

function measureSize(base: CachedBase, size: string, all: readonly Subject[], runs: number): SizeResult {
  readAll(base.folder);
  readAll(base.twin.folder);
  const found = new Map(all.map((subject) => [subject, [] as Measurement[]]));
  for (let run = 1; run <= runs; run++) {
    for (const [subject, measurements] of found) {
      process.stderr.write(`size ${size}, run ${run} of ${runs}: ${subject.name}\n`);
      subject.prepare?.(base);
      measurements.push(measure(subject.steps(base), subject.exitCodes));
      subject.tidy?.(base);
    }
  }
  const series = [...found].map(([subject, measurements]) => ({
    subject,
    bytes: subject.bytes(base),
    runs: measurements,
  }));
  return { size, series };
}

/** What edits take in one process, see `programs/edit-in-process.ts`. */
function editTimes({ folder }: CachedBase): readonly number[] {
  process.stderr.write(`${folder}: edits in memory\n`);
  return JSON.parse(execFileSync(process.execPath, [programs.editInProcess, folder], { encoding: 'utf8' })) as number[];
}

/** What joint reasoning takes, see `programs/contradictions.ts`. */
function jointFigures(): JointFigures {
  process.stderr.write('size L: planted contradictions\n');
  return JSON.parse(execFileSync(process.execPath, [programs.contradictions], { encoding: 'utf8' })) as JointFigures;
}

/** A base of one file, which shows what starting takes. */
function baseOfOneFile(): CachedBase {
  const folder = join(cacheFolder, 'one');
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'swaplore.yaml'), 'swaplore: 1\n');
  const text = 'kind: maker\nid: wren\nname: Wren\n';
  writeFileSync(join(folder, 'wren.yaml'), text);
  return { folder, files: 1, bytes: text.length, planted: [], twin: { folder, files: 1, bytes: text.length } };
}

/** Brings the files into the system's cache, so that the first to be measured does not pay for the rest. */
function readAll(folder: string): void {
  for (const entry of readdirSync(folder, { withFileTypes: true, recursive: true })) {
    if (entry.isFile()) readFileSync(join(entry.parentPath, entry.name));
  }
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

const reviewNote = `Whole processes: medians, ± half the range; peaks without those of git. Cold but for
compiled code, except "again". Five files differ: a rule, a board, three outcomes.`;

const tablesNote = `Whole processes: medians, ± half the range. Tables with all checks run; what was read before is
remembered. DuckDB counts rows in Parquet and holds CSV and JSON lines against them; sqlite3 reads
the database.`;

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
  if (options.simulates !== undefined) {
    const { seed, shops, runs } = options;
    const text = options.simulates === 'odds' ? oddsReport(seed, shops) : trialsReport(seed, shops, runs);
    process.stdout.write(`${text}\n`);
    return 0;
  }
  if (options.isDonors) {
    process.stdout.write(`${donorsReport(options.seed, options.runs)}\n`);
    return 0;
  }
  execFileSync(process.execPath, ['server/tools/build.mjs'], { cwd: root, stdio: 'inherit' });
  const bases = options.sizes.map((size) => cachedBase({ size, seed: options.seed, faults: options.faults }));
  process.stdout.write(`${await reportOf(options)(options, bases)}\n`);
  return 0;
}

type Report = (options: Options, bases: readonly CachedBase[]) => Promise<string>;

function reportOf({ isServer, isEditor, isReport, isReview, isExport }: Options): Report {
  if (isServer) return reportServer;
  if (isEditor) return reportEditor;
  if (isReport) return reportPages;
  if (isReview) return reportReviews;
  return isExport ? reportTables : reportCommand;
}

async function reportCommand(options: Options, bases: readonly CachedBase[]): Promise<string> {
  await buildPrograms();
  const results = [
    measureSize(baseOfOneFile(), 'one', startSubjects, 4 * options.runs),
    ...options.sizes.map((size, position) => measureSize(bases[position] as CachedBase, size, subjects, options.runs)),
  ];
  const edits = options.sizes.map((size, position) => ({
    size,
    milliseconds: editTimes(bases[position] as CachedBase),
  }));
  const joint = options.sizes.includes('L') ? `${toJointLines(jointFigures())}\n` : '';
  return `${toTable(results)}\n\n${toComparisonLines(results, edits)}\n${joint}\n${describeRun(options, bases)}\n${commandNote}`;
}

async function reportPages(options: Options, bases: readonly CachedBase[]): Promise<string> {
  await buildPrograms();
  const results = options.sizes.map((size, position) =>
    measureSize(bases[position] as CachedBase, size, reportSubjects, options.runs),
  );
  return `${toTable(results)}\n\n${describeRun(options, bases)}\n${pagesNote}`;
}

async function reportReviews(options: Options, bases: readonly CachedBase[]): Promise<string> {
  await buildPrograms();
  const results = options.sizes.map((size, position) =>
    measureSize(reviewedBase(bases[position] as CachedBase), size, reviewSubjects, options.runs),
  );
  return `${toTable(results)}\n\n${toReviewLines(results)}\n\n${describeRun(options, bases)}\n${reviewNote}`;
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

process.exitCode = await main();
