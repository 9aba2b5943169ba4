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

/** A figure made of what was measured within one run, its middle over all runs. Machines drift, so no run is mixed with another. */
export function acrossRuns({ series }: SizeResult, value: (run: (subject: Subject) => Measurement) => number): number {
  const figures = series[0]?.runs.map((_, position) =>
    value((subject) => {
      const run = series.find((one) => one.subject === subject)?.runs[position];
      if (!run) throw new Error(`${subject.name} was not measured.`);
      return run;
    }),
  );
  return middle(figures ?? []);
}
