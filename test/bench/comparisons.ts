import { middle, p95 } from './quantiles.ts';
import { figureText, limitText, outcomeText, type Row } from './row.ts';
import type { SizeResult } from './size-result.ts';
import { type Measured, targets } from './targets.ts';

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

const jointRows: readonly Row<JointFigures>[] = [
  { what: 'planted contradictions: not found', value: ({ planted, found }) => planted - found, unit: '', most: 0 },
  { what: 'found besides', value: ({ besides }) => besides, unit: '', most: 0 },
  { what: 'joint reasoning, cold', value: ({ coldMs }) => coldMs, unit: 'ms' },
  { what: 'what it keeps', value: ({ heapBytes }) => heapBytes / 1e6, unit: 'MB' },
  { what: 'joint reasoning after an edit, 95 %', value: ({ jointMs }) => p95(jointMs), unit: 'ms' },
  { what: 'all checks after an edit, median', value: ({ editMs }) => middle(editMs), unit: 'ms' },
];

const editRows: readonly Row<readonly number[]>[] = [
  { what: 'one edit in memory, median', value: middle, unit: 'ms' },
  { what: 'one edit in memory, 95 %', value: p95, unit: 'ms' },
];

/** Joint reasoning as lines. */
export function toJointLines(joint: JointFigures): readonly string[] {
  return [...jointRows.map((row) => toLine('L', row, joint)), ...toTargetLines('L', { joint })];
}

/** What edits of a base in memory take, as lines. */
export function toEditLines({ size, milliseconds }: EditTimes): readonly string[] {
  const lines = editRows.map((row) => toLine(size, row, milliseconds));
  return size === 'L' ? [...lines, ...toTargetLines(size, { edits: milliseconds })] : lines;
}

/** The targets that follow from what was measured on one size, as lines. */
export function toSizeLines(result: SizeResult): readonly string[] {
  return toTargetLines(result.size, { [result.size]: result });
}

/** The targets that follow from what was measured, as lines: what, the figure, and what it should be at most. */
export function toTargetLines(size: string, measured: Partial<Measured>): readonly string[] {
  return targets.filter(({ value }) => !Number.isNaN(value(measured))).map((row) => toLine(size, row, measured));
}

function toLine<Of>(size: string, { what, value, unit, most }: Row<Of>, of: Of): string {
  const figure = figureText(value(of), unit);
  const aim = most === undefined ? '' : `at most ${limitText({ most, unit })}`;
  return `${size.padEnd(4)} ${what.padEnd(40)} ${figure.padStart(10)}   ${aim.padEnd(15)} ${outcomeText(value(of), most)}`.trimEnd();
}
