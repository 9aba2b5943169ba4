// Run in an extension host: how late its timers are while a base is read and checked. Prints what it measured as one line.
import { extensions } from 'vscode';
import type { Extension } from '../../../client/src/extension.ts';
import { type Delays, delaysMark } from './delays.ts';

/** Timers are set this many milliseconds ahead. */
const stepMs = 5;

/** Time a base has to be read and checked; what was measured until then counts. */
const limitMs = 60_000;

/** Called by the extension host. */
export async function run(): Promise<void> {
  const started = performance.now();
  const histogram = await startHistogram();
  const late: number[] = [];
  const isChecked = (): boolean => {
    const extension = extensions.getExtension<Extension>('swaplore.swaplore');
    const text = extension?.isActive ? extension.exports.statusText : undefined;
    return text !== undefined && !text.includes('sync');
  };
  while (!isChecked() && performance.now() - started < limitMs) {
    const from = performance.now();
    await new Promise((resolve) => setTimeout(resolve, stepMs));
    late.push(performance.now() - from - stepMs);
  }
  histogram?.disable();
  late.sort((a, b) => a - b);
  const delays: Delays = {
    checkedMs: isChecked() ? performance.now() - started : undefined,
    timersMs: { p95: late[Math.floor(late.length * 0.95)] ?? 0, longest: late.at(-1) ?? 0 },
    loopMs: histogram && { p95: histogram.percentile(95) / 1e6, longest: histogram.max / 1e6 },
  };
  console.log(`${delaysMark} ${JSON.stringify(delays)}`);
  // What is printed takes a moment to arrive.
  await new Promise((resolve) => setTimeout(resolve, 200));
}

/** What Node measures itself; undefined in a worker of a browser. */
async function startHistogram() {
  try {
    const { monitorEventLoopDelay } = await import('node:perf_hooks');
    const histogram = monitorEventLoopDelay({ resolution: stepMs });
    histogram.enable();
    return histogram;
  } catch {
    return undefined;
  }
}
