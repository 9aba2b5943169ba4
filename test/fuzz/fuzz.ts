/**
 * Feeds parts of the program with whatever may come, from the command line:
 * `npm run fuzz [-- --target NAME] [--runs N | --minutes M] [--seed S] [--keep]`.
 * Prints a line for each target, what failed with the input, and ends with 1 where anything did.
 */
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { Worker } from 'node:worker_threads';
import { projectRoot } from '../harness/source-files.ts';
import { buildCounted } from './build-counted.ts';
import type { CampaignRequest, TargetReport } from './campaign.ts';

/** Seconds without another input after which an execution counts as one that does not end. */
const hangSeconds = 60;

const { values } = parseArgs({
  options: {
    target: { type: 'string', multiple: true, default: [] },
    runs: { type: 'string' },
    minutes: { type: 'string' },
    seed: { type: 'string', default: '20260314' },
    keep: { type: 'boolean', default: false },
  },
});
const numberOf = (text: string | undefined): number | undefined => (text === undefined ? undefined : Number(text));
const request: CampaignRequest = {
  names: values.target,
  seed: Number(values.seed),
  runs: numberOf(values.runs),
  minutes: numberOf(values.minutes),
  keeps: values.keep,
  current: new SharedArrayBuffer(1 << 20),
};

const header = ['target', 'executions', 'seconds', 'a second', 'slowest ms', 'blocks reached', 'kept', 'failed'];
const widths = [16, 10, 8, 8, 10, 16, 6, 6];

function line(cells: readonly (string | number)[]): string {
  return cells
    .map((cell, at) => (at === 0 ? String(cell).padEnd(widths[at] ?? 0) : String(cell).padStart(widths[at] ?? 0)))
    .join('  ');
}

function reportLine({ name, executions, seconds, slowestMs, reached, blocks, kept, failures }: TargetReport): string {
  const rate = Math.round(executions / Math.max(seconds, 0.001));
  return line([
    name,
    executions,
    seconds.toFixed(1),
    rate,
    Math.round(slowestMs),
    `${reached}/${blocks}`,
    kept,
    failures.length,
  ]);
}

/** What stands in the shared memory: the input that is being tried. */
function currentInput(): string {
  const [length = 0] = new Uint32Array(request.current, 0, 1);
  return Buffer.from(new Uint8Array(request.current, 8, length)).toString('latin1');
}

const worker = new Worker(await buildCounted(join(projectRoot, 'test/fuzz/campaign.ts')), { workerData: request });
const reports: TargetReport[] = [];
let running = '';
let [seen, since] = [0, performance.now()];
console.log(line(header));
worker.on('message', (message: { readonly begins?: string; readonly report?: TargetReport }) => {
  running = message.begins ?? running;
  const { report } = message;
  if (!report) return;
  reports.push(report);
  console.log(reportLine(report));
  for (const { input, message: said } of report.failures) console.log(`\n${input}\n${said}\n`);
});
const watch = setInterval(() => {
  const [, tried = 0] = new Uint32Array(request.current, 0, 2);
  if (tried !== seen) [seen, since] = [tried, performance.now()];
  if (performance.now() - since < hangSeconds * 1000) return;
  console.log(`\n${running}: no end after ${hangSeconds} s, seed ${request.seed}:\n${JSON.stringify(currentInput())}`);
  process.exit(1);
}, 1000);
worker.on('error', (error) => {
  console.error(error);
  process.exitCode = 1;
});
worker.on('exit', () => {
  clearInterval(watch);
  const total = reports.reduce((sum, { executions }) => sum + executions, 0);
  const failed = reports.reduce((sum, { failures }) => sum + failures.length, 0);
  console.log(`\n${total} executions of ${reports.length} targets, ${failed} failures, seed ${request.seed}`);
  const isFed =
    reports.length >= Math.max(1, request.names.length) && reports.every(({ executions }) => executions > 0);
  if (!isFed) console.log('Not every target that was asked for was fed: is there a slip in the options?');
  if (failed > 0 || !isFed) process.exitCode = 1;
});
