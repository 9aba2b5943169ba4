import type { Measurement } from './measure.ts';
import {
  ajvCli,
  coldLint,
  editedLint,
  emptyNode,
  hashFiles,
  jsYaml,
  printVersion,
  reviewOfDisk,
  reviewOfRevisions,
  type Subject,
  warmLint,
} from './subjects.ts';
import type { SizeResult } from './table.ts';

/** Two subjects side by side, and what is aimed for. */
interface Comparison {
  readonly what: string;
  readonly sizes: readonly string[];
  readonly value: (run: (subject: Subject) => Measurement) => number;
  readonly unit: 'times' | 'ms' | 'MB';
  readonly most: number;
}

/** What the tool aims for. Ratios of one run count; seconds drift. */
const comparisons: readonly Comparison[] = [
  ratio('cold lint ÷ js-yaml load', ['M'], [coldLint, jsYaml], 1),
  ratio('cold lint ÷ ajv-cli', ['L'], [coldLint, ajvCli], 0.5),
  ratio('lint again ÷ read + SHA-1', ['L'], [warmLint, hashFiles], 2.2),
  {
    what: 'one file edited − again',
    sizes: ['L'],
    value: (run) => run(editedLint).ms - run(warmLint).ms,
    unit: 'ms',
    most: 20,
  },
  { what: 'peak of a cold lint', sizes: ['L'], value: (run) => run(coldLint).peakBytes / 1e6, unit: 'MB', most: 250 },
  ratio('--version ÷ empty Node', ['one'], [printVersion, emptyNode], 1.3),
  ratio('lint of one file ÷ empty Node', ['one'], [warmLint, emptyNode], 1.9),
];

/** What a review aims for, on a base in a repository. */
const reviewComparisons: readonly Comparison[] = [
  ratio('review ÷ cold lint', ['S', 'M', 'L'], [reviewOfDisk, coldLint], 1.3),
  ratio('of two revisions ÷ cold lint', ['S', 'M', 'L'], [reviewOfRevisions, coldLint], 1.3),
];

function ratio(what: string, sizes: readonly string[], [a, b]: readonly [Subject, Subject], most: number): Comparison {
  return { what, sizes, value: (run) => run(a).ms / run(b).ms, unit: 'times', most };
}

/** What one edit takes in a process that holds the base, in milliseconds. */
export interface EditTimes {
  readonly size: string;
  readonly milliseconds: readonly number[];
}

/** What `programs/contradictions.ts` says of contradictions planted in a base of size L. */
export interface JointFigures {
  readonly planted: number;
  readonly found: number;
  readonly besides: number;
  readonly coldMs: number;
  readonly heapBytes: number;
  readonly editMs: readonly number[];
  readonly jointMs: readonly number[];
}

/** Joint reasoning as lines. */
export function toJointLines({ planted, found, besides, coldMs, heapBytes, editMs, jointMs }: JointFigures): string {
  return [
    toLine('L', `${planted} contradictions: not found`, planted - found, '', 0),
    toLine('L', 'found besides', besides, '', 0),
    toLine('L', 'joint reasoning, cold', coldMs, 'ms', undefined),
    toLine('L', 'what it keeps', heapBytes / 1e6, 'MB', undefined),
    toLine('L', 'joint reasoning after an edit, 95 %', share(jointMs, 0.95), 'ms', undefined),
    toLine('L', 'all checks after an edit, median', middle(editMs), 'ms', undefined),
    toLine('L', 'all checks after an edit, 95 %', share(editMs, 0.95), 'ms', 50),
  ].join('\n');
}

/** The comparisons as lines: what, the figure, and what it should be at most. */
export function toComparisonLines(results: readonly SizeResult[], edits: readonly EditTimes[]): string {
  const lines = linesOf(comparisons, results);
  const afterEdits = edits.flatMap(({ size, milliseconds }) => [
    toLine(size, 'one edit in memory, median', middle(milliseconds), 'ms', undefined),
    toLine(size, 'one edit in memory, 95 %', share(milliseconds, 0.95), 'ms', 20),
  ]);
  return [...lines, ...afterEdits].join('\n');
}

/** The same for reviews. */
export function toReviewLines(results: readonly SizeResult[]): string {
  return linesOf(reviewComparisons, results).join('\n');
}

function linesOf(all: readonly Comparison[], results: readonly SizeResult[]): string[] {
  return results.flatMap((result) =>
    all
      .filter(({ sizes }) => sizes.includes(result.size))
      .map((comparison) => {
        const figures = result.series[0]?.runs.map((_, position) =>
          comparison.value((subject) => runOf(result, subject, position)),
        );
        return toLine(result.size, comparison.what, middle(figures ?? []), comparison.unit, comparison.most);
      }),
  );
}

function runOf({ series }: SizeResult, subject: Subject, position: number): Measurement {
  const run = series.find((one) => one.subject === subject)?.runs[position];
  if (!run) throw new Error(`${subject.name} was not measured.`);
  return run;
}

function toLine(
  size: string,
  what: string,
  value: number,
  unit: Comparison['unit'] | '',
  most: number | undefined,
): string {
  const figure = unit === 'times' ? `${value.toFixed(2)} ×` : `${value.toFixed(unit === 'ms' ? 1 : 0)} ${unit}`;
  const aim = most === undefined ? '' : `at most ${most} ${unit === 'times' ? '×' : unit}`.trimEnd();
  const verdict = most === undefined ? '' : value <= most ? 'met' : 'missed';
  return `${size.padEnd(4)} ${what.padEnd(36)} ${figure.padStart(10)}   ${aim.padEnd(15)} ${verdict}`.trimEnd();
}

/** The middle of some numbers; of an even count the mean of the two in the middle. */
export function middle(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length / 2;
  return ((sorted[Math.ceil(half) - 1] ?? Number.NaN) + (sorted[Math.floor(half)] ?? Number.NaN)) / 2;
}

/** The smallest number that a share of the values does not exceed. */
export function share(values: readonly number[], part: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.ceil(part * sorted.length) - 1] ?? Number.NaN;
}
