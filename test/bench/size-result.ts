import type { Measurement } from './measure.ts';
import { middle } from './quantiles.ts';
import type { Subject } from './subjects.ts';

/** All runs of one subject on one base. */
export interface Series {
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

/** What is said of a subject that was not measured. */
const nothing: Measurement = { ms: Number.NaN, cpuMs: Number.NaN, peakBytes: Number.NaN, exitCodes: [], errors: '' };

/**
 * A figure made of what was measured within one run, its middle over all runs: machines drift, so no run is mixed with another. Not a
 * number where a subject was not measured.
 */
export function acrossRuns({ series }: SizeResult, value: (run: (subject: Subject) => Measurement) => number): number {
  const figures = series[0]?.runs.map((_, position) =>
    value((subject) => series.find((one) => one.subject === subject)?.runs[position] ?? nothing),
  );
  return middle(figures ?? []);
}
