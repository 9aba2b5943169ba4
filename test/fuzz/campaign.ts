import { parentPort, workerData } from 'node:worker_threads';
import { writeCorpus } from './corpus.ts';
import { findCoverage } from './coverage.ts';
import { minimized } from './minimized.ts';
import { runTarget } from './run-target.ts';
import { targets } from './targets.ts';

/** What the program asks of the thread that runs the targets. */
export interface CampaignRequest {
  /** Names of targets; all of them where there is none. */
  readonly names: readonly string[];
  readonly seed: number;
  /** Executions of each target; undefined for its own number. */
  readonly runs: number | undefined;
  /** Minutes for each target, in place of a number of executions. */
  readonly minutes: number | undefined;
  /** Whether to put what was found worth keeping into the repository. */
  readonly keeps: boolean;
  /** The input that is being tried: its length, then its bytes. */
  readonly current: SharedArrayBuffer;
}

/** What came of one target. */
export interface TargetReport {
  readonly name: string;
  readonly executions: number;
  readonly seconds: number;
  readonly slowestMs: number;
  readonly reached: number;
  readonly blocks: number;
  readonly kept: number;
  readonly failures: readonly { readonly input: string; readonly message: string }[];
}

async function run(request: CampaignRequest): Promise<void> {
  const length = new Uint32Array(request.current, 0, 2);
  const bytes = new Uint8Array(request.current, 8);
  const chosen = targets.filter(({ name }) => request.names.length === 0 || request.names.includes(name));
  for (const target of chosen) {
    parentPort?.postMessage({ begins: target.name });
    const begun = performance.now();
    const runs = request.runs ?? target.runs;
    const coverage = findCoverage();
    const minutesSoFar = (): number => (performance.now() - begun) / 60_000;
    const fed = await runTarget(target, {
      seed: request.seed,
      coverage,
      goesOn: (executions) => (request.minutes === undefined ? executions < runs : minutesSoFar() < request.minutes),
      onInput: (input) => {
        const shown = typeof input === 'string' ? new TextEncoder().encode(input) : input;
        bytes.set(shown.subarray(0, bytes.length));
        length[0] = Math.min(shown.length, bytes.length);
        // Also tells the program that something is still going on.
        length[1] = (length[1] ?? 0) + 1;
      },
    });
    if (request.keeps && target.kind === 'bytes') writeCorpus(target.name, minimized(target, fed.kept));
    const report: TargetReport = {
      name: target.name,
      executions: fed.executions,
      seconds: (performance.now() - begun) / 1000,
      slowestMs: fed.slowestMs,
      reached: coverage?.reached() ?? 0,
      blocks: coverage?.blocks ?? 0,
      kept: fed.kept.length,
      failures: fed.failures.map(({ input, error }) => ({
        input,
        message:
          error instanceof Error ? (error.stack ?? error.message).split('\n').slice(0, 6).join('\n') : String(error),
      })),
    };
    parentPort?.postMessage({ report });
  }
}

await run(workerData as CampaignRequest);
