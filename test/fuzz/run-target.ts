import { isUtf8 } from 'node:buffer';
import fc from 'fast-check';
import { diceOf } from '../harness/rom-bytes.ts';
import { readCorpus } from './corpus.ts';
import type { Coverage } from './coverage.ts';
import { mutate } from './mutate.ts';
import type { BytesTarget, MadeTarget, Target } from './target.ts';
import { textOf } from './text-of.ts';

/** How long a target is fed, and what is told on the way. */
export interface Campaign {
  readonly seed: number;
  /** Whether to go on after so many executions. */
  readonly goesOn: (executions: number) => boolean;
  /** Told before every execution; an execution that does not end can be found by it. */
  readonly onInput: (input: Uint8Array | string) => void;
  /** Undefined where the build does not count blocks; then inputs are chosen blindly. */
  readonly coverage: Coverage | undefined;
}

/** An input for which something did not hold. */
interface Failure {
  readonly input: string;
  readonly error: unknown;
}

/** What came of feeding a target. */
export interface Fed {
  readonly executions: number;
  /** The first of each sort. */
  readonly failures: readonly Failure[];
  readonly slowestMs: number;
  /** Inputs that reached something new, those it began with among them; none where blocks are not counted. */
  readonly kept: readonly Uint8Array[];
}

/** Failures after which a target is given up: more of them say nothing new. */
const mostFailures = 20;

/** Feeds a target. Never throws: what fails is among the failures. */
export async function runTarget(target: Target, campaign: Campaign): Promise<Fed> {
  const feeder = new Feeder(target, campaign);
  if (target.kind === 'bytes') await feedBytes(target, campaign, feeder);
  else await feedSamples(target, campaign, feeder);
  return feeder;
}

async function feedBytes(target: BytesTarget, { seed, coverage }: Campaign, feeder: Feeder): Promise<void> {
  const dice = diceOf(seed);
  const [corpus, seeds] = [readCorpus(target.name), target.seeds()].map((inputs) =>
    inputs.filter(({ length }) => length <= target.mostBytes),
  );
  // Without counts nothing is learnt from trying seeds, which other tests read as they are.
  const first = [...(corpus ?? []), ...(coverage ? (seeds ?? []) : [])];
  const pool: Uint8Array[] = coverage ? [] : [...(seeds ?? [])];
  const pick = (from: readonly Uint8Array[]): Uint8Array => from[dice(Math.max(from.length, 1))] ?? new Uint8Array();
  for (let at = 0; feeder.goesOn(); at++) {
    const fresh = pool.length > 40 && dice(3) === 0 ? pool.slice(-20) : pool;
    const input = first[at] ?? mutate(pick(fresh), { dice, other: pick(pool) }).subarray(0, target.mostBytes);
    coverage?.begin();
    const isHeld = await feeder.feed(input, () => target.run(input));
    const isNews = isHeld && (coverage?.isNews() ?? false);
    if (isNews || at < first.length) pool.push(input);
    if (isNews) feeder.kept.push(input);
  }
}

/** Samples that are made at once: making a generator ready costs more than a sample. */
const samplesAtOnce = 50;

async function feedSamples(target: MadeTarget<unknown>, { seed, coverage }: Campaign, feeder: Feeder): Promise<void> {
  for (let round = seed; feeder.goesOn(); round++) {
    for (const sample of fc.sample(target.samples, { seed: round, numRuns: samplesAtOnce })) {
      if (!feeder.goesOn()) break;
      coverage?.begin();
      await feeder.feed(sample, () => target.run(sample));
      coverage?.isNews();
    }
  }
  await target.end?.();
}

/** Counts executions and keeps what failed. */
class Feeder implements Fed {
  executions = 0;
  slowestMs = 0;
  private failed = 0;
  readonly kept: Uint8Array[] = [];
  private readonly found = new Map<string, Failure>();

  constructor(
    private readonly target: Target,
    private readonly campaign: Campaign,
  ) {}

  get failures(): readonly Failure[] {
    return [...this.found.values()];
  }

  goesOn(): boolean {
    return this.failed < mostFailures && this.campaign.goesOn(this.executions);
  }

  /** Runs the target on an input; says whether everything held. */
  async feed(input: unknown, run: () => void | Promise<void>): Promise<boolean> {
    this.campaign.onInput(input instanceof Uint8Array ? input : `sample after ${this.executions} others`);
    this.executions++;
    try {
      const { limitMs } = this.target;
      // What was slow once may have waited for another process, or for memory; what is slow again is slow.
      const ms = await cpuMs(run);
      const lasting = ms > limitMs ? Math.min(ms, await cpuMs(run)) : ms;
      this.slowestMs = Math.max(this.slowestMs, lasting);
      if (lasting > limitMs) throw new Error(`It took ${Math.round(lasting)} ms; at most ${limitMs} are allowed.`);
      return true;
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error);
      // What an assertion is called stands before the colon; the rest tells of this input.
      const [name = ''] = message.split(':', 1);
      if (!this.found.has(name)) this.found.set(name, { input: shown(input), error });
      this.failed++;
      return false;
    }
  }
}

/** Milliseconds of a processor that something took. */
async function cpuMs(run: () => void | Promise<void>): Promise<number> {
  const before = performance.now();
  const cpu = process.cpuUsage();
  const running = run();
  if (running) await running;
  const wallMs = performance.now() - before;
  if (wallMs < 20) return wallMs;
  const { user, system } = process.cpuUsage(cpu);
  return Math.min(wallMs, (user + system) / 1000);
}

/** An input so that a test can hold it: bytes as text where they are text, else in hexadecimal; samples as code. */
function shown(input: unknown): string {
  if (!(input instanceof Uint8Array)) return fc.stringify(input);
  return isUtf8(input) ? JSON.stringify(textOf(input)) : `hex ${Buffer.from(input).toString('hex')}`;
}
