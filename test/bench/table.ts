import type { Measurement } from './measure.ts';
import { middle } from './quantiles.ts';
import type { Series, SizeResult } from './size-result.ts';
import { coldLint } from './subjects.ts';

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
