/**
 * Stryker's runner of tests for this project: all tests are one script, which is evaluated afresh for each mutant and calls the tests
 * that reach it, the quickest first, until one fails.
 */
import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { bundleTests } from './bundle-tests.ts';
import { isInSample } from './sample.ts';
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

/** What Stryker's instrumented code and its runner tell each other. */
const shared: {
  activeMutant?: string | undefined;
  currentTestId?: string | undefined;
  hitCount?: number | undefined;
  hitLimit?: number | undefined;
  mutantCoverage: { readonly static: object; readonly perTest: Record<string, object> };
} = { mutantCoverage: { static: {}, perTest: {} } };
Object.assign(globalThis, { __stryker__: shared });

/** What is spent on one mutant, in milliseconds: the quickest of the tests that reach it, as many as go into that. */
const mostMs = 4000;

const percent = Number(process.env['MUTATION_PERCENT']);

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

  async dryRun() {
    shared.mutantCoverage = { static: {}, perTest: {} };
    const all = await this.#call([...milliseconds.keys()], 'goes on');
    const tests = all.filter(({ status }) => status === 0);
    return { status: 'complete', tests, mutantCoverage: coverageOf(tests) };
  }

  async mutantRun({ activeMutant, testFilter, hitLimit }: Run) {
    if (activeMutant === undefined) throw new Error('No mutant to try.');
    const { id, fileName, replacement, location } = activeMutant;
    if (!isInSample({ file: fileName, replacement, ...location.start }, percent))
      return { status: 'error', errorMessage: 'not in the sample' };
    Object.assign(shared, { activeMutant: id, hitCount: hitLimit && 0, hitLimit });
    const results = await this.#call(affordable(testFilter && new Set(testFilter)));
    const nrOfTests = results.length;
    if (hitLimit !== undefined && (shared.hitCount ?? 0) > hitLimit) return { status: 'timeout', reason: 'hit limit' };
    const failed = results.find(({ status }) => status === 1);
    if (failed === undefined) return { status: 'survived', nrOfTests };
    return { status: 'killed', killedBy: [failed.id], failureMessage: failed.failureMessage ?? '', nrOfTests };
  }

  async #call(ids: readonly string[], failing: 'stops' | 'goes on' = 'stops'): Promise<readonly TestResult[]> {
    const onTest = (id: string | undefined): void => {
      shared.currentTestId = id;
    };
    return (await this.#tests?.run({ ids, stopsAtFailure: failing === 'stops', onTest })) ?? [];
  }
}

/** The quickest of these tests, or of all, as many as can be called for one mutant. */
function affordable(wanted: ReadonlySet<string> | undefined): readonly string[] {
  let spent = 0;
  return Array.from(milliseconds).flatMap(([id, ms]) => {
    if (wanted?.has(id) === false) return [];
    spent += ms;
    return spent <= mostMs ? [id] : [];
  });
}

/**
 * What is reached while the tests themselves run, and, of what is reached only while files are loaded, that. Code that does both would
 * have all tests called, although each run begins with loading.
 */
function coverageOf(tests: readonly TestResult[]): typeof shared.mutantCoverage {
  const { perTest, static: whenLoaded } = shared.mutantCoverage;
  const own = Object.fromEntries(tests.map(({ id }) => [id, perTest[id] ?? {}]));
  const reached = new Set(Object.values(own).flatMap((counts) => Object.keys(counts)));
  return { perTest: own, static: Object.fromEntries(Object.entries(whenLoaded).filter(([id]) => !reached.has(id))) };
}

export const strykerPlugins = [{ kind: 'TestRunner', name: 'one-process', factory: () => new OneProcessRunner() }];
