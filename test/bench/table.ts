import type { Size } from './base/sizes.ts';
import type { Measurement } from './measure.ts';
import { lint, memoryTargets, type Subject } from './subjects.ts';

/** All runs of one subject on one base. */
interface Series {
  readonly subject: Subject;
  readonly bytes: number;
  /** In the order of the runs, so that those of one position were made side by side. */
  readonly runs: readonly Measurement[];
}

/** All series on the base of one size. */
export interface SizeResult {
  readonly size: Size;
  readonly series: readonly Series[];
}

const columns = ['Size', 'What', 'Wall s', '±%', 'CPU s', 'MB/s', 'Peak MB', 'Lint ÷', 'by CPU', 'Target'] as const;
const widths = [4, 21, 6, 3, 6, 5, 7, 6, 6, 6];

/** The results as one table, at most 80 columns wide. */
export function toTable(results: readonly SizeResult[]): string {
  const rows = results.flatMap(({ size, series }) =>
    series.map((one, position) => [position === 0 ? size : '', ...cellsOf(one, series, size)]),
  );
  return [columns, ...rows].map(toLine).join('\n');
}

function toLine(cells: readonly string[]): string {
  const padded = cells.map((cell, column) => {
    const width = widths[column] ?? 0;
    return column < 2 ? cell.padEnd(width) : cell.padStart(width);
  });
  return padded.join(' ').trimEnd();
}

function cellsOf({ subject, bytes, runs }: Series, all: readonly Series[], size: Size): string[] {
  const own = all.find((series) => series.subject === lint)?.runs ?? [];
  // Machines drift, so only times of the same run are held against one another.
  const ratio = (of: (run: Measurement) => number): number =>
    median(runs.map((run, position) => of(own[position] ?? run) / of(run)));
  const times = runs.map((run) => run.ms);
  const wall = median(times);
  const halfRange = (Math.max(...times) - Math.min(...times)) / 2;
  const isLint = subject === lint;
  return [
    subject.name,
    seconds(wall),
    ((100 * halfRange) / wall).toFixed(0),
    seconds(median(runs.map((run) => run.cpuMs))),
    (bytes / 1000 / wall).toFixed(1),
    (median(runs.map((run) => run.peakBytes)) / 1e6).toFixed(0),
    ...(isLint ? ['', ''] : [ratio((run) => run.ms).toFixed(2), ratio((run) => run.cpuMs).toFixed(2)]),
    isLint ? megabytes(memoryTargets[size]) : (subject.targets[size]?.toFixed(2) ?? ''),
  ];
}

function seconds(ms: number): string {
  return (ms / 1000).toFixed(ms < 10_000 ? 3 : 2);
}

function megabytes(bytes: number | undefined): string {
  return bytes === undefined ? '' : `${bytes / 1e6} MB`;
}

/** The middle of some numbers; of an even count the mean of the two in the middle. */
function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length / 2;
  return ((sorted[Math.ceil(half) - 1] ?? Number.NaN) + (sorted[Math.floor(half)] ?? Number.NaN)) / 2;
}
