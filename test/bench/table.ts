import { middle } from './comparisons.ts';
import type { Measurement } from './measure.ts';
import { coldLint, type Subject } from './subjects.ts';

/** All runs of one subject on one base. */
interface Series {
  readonly subject: Subject;
  readonly bytes: number;
  /** In the order of the runs, so that those of one position were made side by side. */
  readonly runs: readonly Measurement[];
}

/** All series on the base of one size. */
export interface SizeResult {
  /** Name of the size, or `one` for a base of one file. */
  readonly size: string;
  readonly series: readonly Series[];
}

const columns = ['Size', 'What', 'Wall s', '±%', 'CPU s', 'MB/s', 'Peak MB', 'Lint ÷', 'by CPU'] as const;
const widths = [4, 21, 6, 3, 6, 5, 7, 6, 6];

/** The results as one table, at most 80 columns wide. */
export function toTable(results: readonly SizeResult[]): string {
  const rows = results.flatMap(({ size, series }) =>
    series.map((one, position) => [position === 0 ? size : '', ...cellsOf(one, series)]),
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

function cellsOf({ subject, bytes, runs }: Series, all: readonly Series[]): string[] {
  const own = all.find((series) => series.subject === coldLint)?.runs ?? [];
  // Machines drift, so only times of the same run are held against one another.
  const ratio = (of: (run: Measurement) => number): number =>
    middle(runs.map((run, position) => of(own[position] ?? run) / of(run)));
  const times = runs.map((run) => run.ms);
  const wall = middle(times);
  const halfRange = (Math.max(...times) - Math.min(...times)) / 2;
  const isCompared = own.length > 0 && subject !== coldLint;
  return [
    subject.name,
    seconds(wall),
    ((100 * halfRange) / wall).toFixed(0),
    seconds(middle(runs.map((run) => run.cpuMs))),
    (bytes / 1000 / wall).toFixed(1),
    (middle(runs.map((run) => run.peakBytes)) / 1e6).toFixed(0),
    ...(isCompared ? [ratio((run) => run.ms).toFixed(2), ratio((run) => run.cpuMs).toFixed(2)] : ['', '']),
  ];
}

function seconds(ms: number): string {
  return (ms / 1000).toFixed(ms < 10_000 ? 3 : 2);
}
