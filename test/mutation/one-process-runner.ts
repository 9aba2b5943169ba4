/**
 * Stryker's runner of tests for this project: all tests are one script, which is evaluated afresh for each mutant and calls the tests
 * that reach it, the quickest first, until one fails.
 */
import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { bundleTests } from './bundle-tests.ts';
import { shared } from './counters.ts';
import { isInSample, type Sample } from './sample.ts';
import { type TestResult, TestScript } from './test-script.ts';

/** What Stryker asks for. */
interface Run {
  readonly testFilter?: readonly string[];
  readonly hitLimit?: number;
  readonly activeMutant?: {
    readonly id: string;
    readonly fileName: string;
    readonly replacement: string;
    readonly location: { readonly start: { readonly line: number; readonly column: number } };
  };
}

/** How often mutants were reached, by their numbers. */
type Counts = Readonly<Record<string, number>>;

/** More than there are. */
const mostMutants = 20_000;

/** What is spent on one mutant, in milliseconds: the quickest of the tests that reach it, as many as go into that. */
const mostMs = 4000;

const sample: Sample = JSON.parse(process.env['MUTATION_SAMPLE'] ?? '');

/** The tests that are worth calling with what each takes, in milliseconds, the quickest first. */
const milliseconds: ReadonlyMap<string, number> = new Map(
  JSON.parse(readFileSync(process.env['MUTATION_TESTS'] ?? '', 'utf8')),
);

class OneProcessRunner {
  #tests: TestScript | undefined;

  capabilities() {
    return { reloadEnvironment: true };
  }

  async init(): Promise<void> {
    // Stryker starts its processes in the copy of the project that holds the mutants.
    const path = join(process.cwd(), 'all-tests.cjs');
    if (!existsSync(path)) {
      const files = new Set(Array.from(milliseconds.keys(), (id) => id.slice(0, id.indexOf(': '))));
      writeFileSync(`${path}.${process.pid}`, await bundleTests(process.cwd(), [...files]));
      renameSync(`${path}.${process.pid}`, path);
    }
    this.#tests = new TestScript(path);
  }

  /** Calls all tests once to see which mutants each reaches, and how often. */
  async dryRun() {
    const counts = new Uint32Array(mostMutants);
    Object.assign(shared, { active: -1, counts });
    const perTest: Record<string, Counts> = {};
    const loaded: Record<string, number>[] = [];
    let current: string | undefined;
    const onTest = (id: string | undefined): void => {
      const reached = countsOf(counts);
      counts.fill(0);
      if (current === undefined) loaded.push(reached);
      else perTest[current] = reached;
      current = id;
    };
    const all = (await this.#tests?.run({ ids: [...milliseconds.keys()], onTest })) ?? [];
    shared.counts = undefined;
    const tests = all.filter(({ status }) => status === 0);
    return { status: 'complete', tests, mutantCoverage: coverageOf(tests, perTest, Object.assign({}, ...loaded)) };
  }

  async mutantRun({ activeMutant, testFilter, hitLimit }: Run) {
    if (activeMutant === undefined) throw new Error('No mutant to try.');
    const { id, fileName, replacement, location } = activeMutant;
    if (!isInSample({ file: fileName, replacement, ...location.start }, sample))
      return { status: 'error', errorMessage: 'not in the sample' };
    Object.assign(shared, { active: Number(id), hits: 0, mostHits: hitLimit ?? Number.POSITIVE_INFINITY });
    const ids = affordable(fileName, testFilter && new Set(testFilter));
    const results = (await this.#tests?.run({ ids, stopsAtFailure: true })) ?? [];
    const nrOfTests = results.length;
    if (shared.hits > shared.mostHits) return { status: 'timeout', reason: 'reached too often' };
    const failed = results.find(({ status }) => status === 1);
    if (failed === undefined) return { status: 'survived', nrOfTests };
    return { status: 'killed', killedBy: [failed.id], failureMessage: failed.failureMessage ?? '', nrOfTests };
  }
}

/**
 * Of these tests, or of all, as many as can be called for one mutant: first those named after its file, then those of its folder, then the
 * rest, the quickest first.
 */
function affordable(mutated: string, wanted: ReadonlySet<string> | undefined): readonly string[] {
  const stem = basename(mutated, '.ts');
  const folder = `test/${basename(dirname(mutated))}/`;
  const distance = (id: string): number => {
    if (id.startsWith(`test/property/${stem}.`) || id.startsWith(`${folder}${stem}.`)) return 0;
    return id.startsWith(folder) ? 1 : 2;
  };
  let spent = 0;
  return Array.from(milliseconds)
    .filter(([id]) => wanted?.has(id) !== false)
    .map(([id, ms]) => ({ id, ms, far: distance(id) }))
    .sort((one, other) => one.far - other.far || one.ms - other.ms)
    .flatMap(({ id, ms }) => {
      spent += ms;
      return spent <= mostMs ? [id] : [];
    });
}

function countsOf(counts: Uint32Array): Counts {
  const reached: Record<string, number> = {};
  for (const [mutant, count] of counts.entries()) if (count > 0) reached[mutant] = count;
  return reached;
}

/**
 * What is reached while the tests themselves run, and, of what is reached only while files are loaded, that. Code that does both would
 * have all tests called, although each run begins with loading.
 */
function coverageOf(tests: readonly TestResult[], perTest: Readonly<Record<string, Counts>>, whenLoaded: Counts) {
  const own = Object.fromEntries(tests.map(({ id }) => [id, perTest[id] ?? {}]));
  const reached = new Set(Object.values(own).flatMap((counts) => Object.keys(counts)));
  return { perTest: own, static: Object.fromEntries(Object.entries(whenLoaded).filter(([id]) => !reached.has(id))) };
}

export const strykerPlugins = [{ kind: 'TestRunner', name: 'one-process', factory: () => new OneProcessRunner() }];
