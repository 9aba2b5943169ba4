/** All tests in one script, which is evaluated afresh each time it is run, so that nothing is left of what ran before. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { Script } from 'node:vm';
import type { Body, FileOfTests } from './collected-tests.ts';

/** A test that was called. Stryker's names. */
export interface TestResult {
  /** `PATH: NAME`. */
  readonly id: string;
  readonly name: string;
  readonly timeSpentMs: number;
  /** 0 passed, 1 failed. */
  readonly status: 0 | 1;
  readonly failureMessage?: string;
}

/** How tests are run. */
export interface TestRun {
  /** The tests to call, in this order; absent: all, file by file. */
  readonly ids?: readonly string[];
  readonly stopsAtFailure?: boolean;
  /** Told the id of the test that is called next, and undefined while none is. */
  readonly onTest?: (id: string | undefined) => void;
}

interface Planned {
  readonly file: FileOfTests;
  readonly run: Body;
}

/** The script at a path. */
export class TestScript {
  readonly #script: Script;

  constructor(private readonly path: string) {
    this.#script = new Script(`(function (module, require) {${readFileSync(path, 'utf8')}\n})`, { filename: path });
  }

  /** Calls tests one by one. What cannot even be loaded, or cleared away, fails; one of its tests is named. */
  async run({ ids, stopsAtFailure = false, onTest }: TestRun = {}): Promise<readonly TestResult[]> {
    const results: TestResult[] = [];
    const begun = new Set<FileOfTests>();
    try {
      const load = this.#evaluate();
      for (const id of ids ?? load.all()) {
        const test = load.test(id);
        if (!test) continue;
        onTest?.(id);
        const result = await call(id, test, begun);
        onTest?.(undefined);
        results.push(result);
        if (result.status === 1 && stopsAtFailure) break;
      }
      for (const { after } of begun) for (const body of after) await body();
    } catch (fault) {
      results.push({ id: ids?.[0] ?? '', name: '', timeSpentMs: 0, status: 1, failureMessage: String(fault) });
    }
    onTest?.(undefined);
    return results;
  }

  /** The script evaluated afresh. A file of tests is loaded when the first of its tests is asked for. */
  #evaluate() {
    const module: { exports: Record<string, () => FileOfTests> } = { exports: {} };
    this.#script.runInThisContext()(module, createRequire(this.path));
    const planned = new Map<string, ReadonlyMap<string, Planned>>();
    const testsOf = (path: string): ReadonlyMap<string, Planned> => {
      const known = planned.get(path);
      if (known) return known;
      const file = module.exports[path]?.();
      const tests = new Map(file?.tests.map(({ name, run }) => [`${path}: ${name}`, { file, run }]));
      planned.set(path, tests);
      return tests;
    };
    return {
      all: () => Object.keys(module.exports).flatMap((path) => [...testsOf(path).keys()]),
      test: (id: string) => testsOf(id.slice(0, id.indexOf(': '))).get(id),
    };
  }
}

async function call(id: string, { file, run }: Planned, begun: Set<FileOfTests>): Promise<TestResult> {
  const start = performance.now();
  let failureMessage: string | undefined;
  try {
    if (!begun.has(file)) {
      begun.add(file);
      for (const prepare of file.before) await prepare();
    }
    await run();
  } catch (fault) {
    failureMessage = String(fault);
  }
  const timeSpentMs = Math.round(performance.now() - start);
  const failed = failureMessage === undefined ? { status: 0 as const } : { status: 1 as const, failureMessage };
  return { id, name: id, timeSpentMs, ...failed };
}
