/**
 * `npm run mutation -- [PART…] [--percent N] [--seed WORD]`: Stryker changes parts of the core piece by piece, and a table tells how many
 * of these changes a test notices. What is not noticed is listed in a file for each part. By hand only: all of it keeps two cores busy
 * for long. For a single file, `PART/FILE.ts`, only the tests of its folder and those that import it are called.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { parts, tested, tooSlow } from './parts.ts';
import { isInSample, type Sample } from './sample.ts';
import { worthwhileTests } from './worthwhile-tests.ts';

/** The part of Stryker's report that is read. Source: the mutation testing report schema, version 2. */
interface Report {
  readonly files: Readonly<Record<string, { readonly source: string; readonly mutants: readonly Judged[] }>>;
}

interface Judged {
  readonly status: 'Killed' | 'Timeout' | 'Survived' | 'NoCoverage' | 'RuntimeError';
  readonly replacement?: string;
  /** From 1, both. */
  readonly location: { readonly start: { readonly line: number; readonly column: number } };
}

const root = fileURLToPath(new URL('../..', import.meta.url));
const own = fileURLToPath(new URL('.', import.meta.url));
const stryker = join(own, 'node_modules/@stryker-mutator/core/bin/stryker.js');
const folder = join(root, '.mutation');
const tsx = pathToFileURL(createRequire(import.meta.url).resolve('tsx')).href;

const { values, positionals } = parseArgs({
  options: { percent: { type: 'string', default: '100' }, seed: { type: 'string', default: '' } },
  allowPositionals: true,
});
const sample: Sample = { percent: Number(values.percent), seed: values.seed };
const wanted = positionals.length > 0 ? positionals : parts;
const sources = wanted.map((name) => `server/src/core/${name}`);
const unknown = wanted.filter(
  (name, at) => !parts.some((part) => name.startsWith(part)) || !existsSync(join(root, sources[at] ?? '')),
);
if (unknown.length > 0) throw new Error(`No such part or file: ${unknown.join(', ')}. There are ${parts.join(', ')}.`);
if (!(sample.percent > 0 && sample.percent <= 100))
  throw new Error(`\`--percent ${values.percent}\` is no share between 0 and 100.`);
if (!existsSync(stryker)) throw new Error('Stryker is not installed: `npm ci --prefix test/mutation`.');

mutate().then(
  (report) => {
    console.log('| Part | Tried | Noticed | Not noticed | Reached by no test | Noticed, in percent |');
    console.log('| --- | ---: | ---: | ---: | ---: | ---: |');
    for (const part of wanted) console.log(toRow(part, report));
    console.log(`\n${sample.percent} % of all mutants; what no test notices is listed in ${folder}.`);
  },
  (error: unknown) => {
    console.error(error);
    process.exitCode = 1;
  },
);

/** Has Stryker try the mutants of all parts together, so that the tests are gone through once to see which reach what. */
async function mutate(): Promise<Report> {
  mkdirSync(folder, { recursive: true });
  // Few samples a law: what survives them is counted as not noticed, so that the true share is higher rather than lower.
  process.env['PROPERTY_EFFORT'] ??= '0.05';
  const testsPath = join(folder, 'tests.json');
  writeFileSync(testsPath, JSON.stringify(await worthwhileTests(root, testFiles(), folder)));
  const fileName = join(folder, 'report.json');
  const configPath = join(folder, 'stryker.json');
  const config = {
    mutate: sources.map((source) => (source.endsWith('.ts') ? source : `${source}/*.ts`)),
    testRunner: 'one-process',
    plugins: [join(own, 'one-process-runner.ts')],
    coverageAnalysis: 'perTest',
    concurrency: 2,
    reporters: ['json', 'progress-append-only'],
    jsonReporter: { fileName },
    ignorePatterns: ['**/node_modules', 'dist'],
    tempDirName: join(folder, 'copies'),
    timeoutMS: 15_000,
    dryRunTimeoutMinutes: 20,
  };
  writeFileSync(configPath, JSON.stringify(config));
  const { status } = spawnSync(process.execPath, [stryker, 'run', configPath], {
    cwd: root,
    stdio: ['ignore', 2, 2],
    env: {
      ...process.env,
      NODE_OPTIONS: `--import ${tsx}`,
      MUTATION_TESTS: testsPath,
      MUTATION_SAMPLE: JSON.stringify(sample),
    },
  });
  if (status !== 0) throw new Error(`Stryker ended with ${status}.`);
  return JSON.parse(readFileSync(fileName, 'utf8'));
}

function testFiles(): readonly string[] {
  return tested.flatMap((folder) =>
    readdirSync(join(root, 'test', folder))
      .filter((file) => file.endsWith('.test.ts') && !tooSlow.has(file))
      .map((file) => `test/${folder}/${file}`)
      .filter(isAboutSources),
  );
}

/** Whether a file of tests may be about what is changed. Of whole parts that is not asked: much of them is reached through others. */
function isAboutSources(path: string): boolean {
  if (!sources.every((source) => source.endsWith('.ts'))) return true;
  const text = readFileSync(join(root, path), 'utf8');
  return wanted.some((name) => path.startsWith(`test/${dirname(name)}/`) || text.includes(`/core/${name}'`));
}

function toRow(part: string, { files }: Report): string {
  const counts = { Killed: 0, Timeout: 0, Survived: 0, NoCoverage: 0, RuntimeError: 0 };
  const missed: string[] = [];
  for (const [file, { source, mutants }] of Object.entries(files)) {
    if (!file.includes(`/core/${part}`)) continue;
    const lines = source.split('\n');
    for (const { status, replacement = '', location } of mutants) {
      const { line, column } = location.start;
      if (!isInSample({ file, line: line - 1, column: column - 1, replacement }, sample)) continue;
      counts[status]++;
      if (status === 'Survived' || status === 'NoCoverage')
        missed.push(`${file}:${line}:${column} ${status}\n  ${lines[line - 1]?.trim()}\n  ${replacement}\n`);
    }
  }
  writeFileSync(join(folder, `${part.replace('/', '-')}.txt`), missed.join(''));
  const noticed = counts.Killed + counts.Timeout;
  const tried = noticed + missed.length;
  return `| ${part} | ${tried} | ${noticed} | ${counts.Survived} | ${counts.NoCoverage} | ${((100 * noticed) / tried).toFixed(1)} |`;
}
