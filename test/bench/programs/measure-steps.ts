/**
 * Runs Node programs one after the other and prints what they took as JSON. A process of its own, and a small one: a child begins
 * with the peak memory of the process it was started from.
 */
import { spawn } from 'node:child_process';
import type { Readable } from 'node:stream';
import type { Measurement, Measuring, Step } from '../measure.ts';

/** What `report-usage.ts` says. */
interface Usage {
  readonly cpuMs: number;
  readonly peakBytes: number;
}

interface StepResult extends Usage {
  readonly ms: number;
  readonly exitCode: number | null;
  readonly errors: string;
}

async function runStep({ args, cwd, env }: Step, preload: string): Promise<StepResult> {
  const started = process.hrtime.bigint();
  const child = spawn(process.execPath, ['--require', preload, ...args], {
    cwd,
    env: { ...process.env, ...env },
    stdio: ['ignore', 'ignore', 'pipe', 'pipe'],
  });
  const errors = collect(child.stderr as Readable);
  const usage = collect(child.stdio[3] as Readable);
  let ms = 0;
  const exitCode = await new Promise<number | null>((resolve, reject) => {
    child.on('error', reject);
    child.on('exit', () => {
      ms = Number(process.hrtime.bigint() - started) / 1e6;
    });
    child.on('close', resolve);
  });
  return { ms, ...toUsage(await usage), exitCode, errors: await errors };
}

/** A process that was killed says nothing. */
function toUsage(report: string): Usage {
  return report === '' ? { cpuMs: 0, peakBytes: 0 } : (JSON.parse(report) as Usage);
}

async function collect(stream: Readable): Promise<string> {
  let text = '';
  for await (const part of stream) text += String(part);
  return text;
}

const { steps, preload } = JSON.parse(process.argv[2] ?? '{}') as Measuring;
const results: StepResult[] = [];
for (const step of steps) results.push(await runStep(step, preload));
const measurement: Measurement = {
  ms: results.reduce((sum, result) => sum + result.ms, 0),
  cpuMs: results.reduce((sum, result) => sum + result.cpuMs, 0),
  peakBytes: Math.max(...results.map((result) => result.peakBytes)),
  exitCodes: results.map((result) => result.exitCode),
  errors: results.map((result) => result.errors.slice(0, 2000)).join(''),
};
process.stdout.write(JSON.stringify(measurement));
