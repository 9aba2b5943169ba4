/**
 * Rates beneath each other on one scale, each with how far it may be off.
 * Laws (test/property/forest-plot.property.test.ts):
 * - marks lie within the scale and match the numbers
 * - lines have at most 80 columns and show each number where the scale has it
 */
import { cutText } from '../text/cut-text.ts';
import { plural } from '../text/plural.ts';
import { roughPercent } from '../text/rough-percent.ts';
import { rounded } from '../text/rounded.ts';
import { wholePercent } from '../text/whole-percent.ts';
import type { Figure } from './document.ts';
import type { Mark } from './drawing.ts';

/** A rate of a plot. Shares are 0 to 1. */
export interface PlotRow {
  readonly name: string;
  /** Pairs counted, and the votes among them that worked; without a pair there is no rate. */
  readonly pairs: number;
  readonly votes: number;
  /** Exact bounds; say nothing without a pair. */
  readonly exact: readonly [number, number];
  /** What is to be expected in the light of all families. */
  readonly pooled: { readonly mean: number; readonly interval: readonly [number, number] };
}

/** Rates that belong together, under a name of their own. */
export interface PlotGroup {
  readonly name: string | undefined;
  readonly rows: readonly PlotRow[];
}

/** What a plot is made from; at least one row. */
export interface PlotInput {
  readonly caption: string;
  readonly groups: readonly PlotGroup[];
}

/** The plot of some rates. */
export function forestPlot({ caption, groups }: PlotInput): Figure {
  const rows = groups.flatMap((group) => group.rows.map((row) => ({ group: group.name, ...row })));
  return {
    kind: 'figure',
    caption,
    description: rows.map(inWords).join(' '),
    drawing: drawn(groups),
    lines: [scaleLine('0 %', '50 %', '100 %'), ...groups.flatMap(groupLines), ...legendLines],
  };
}

function inWords({
  group,
  name,
  pairs,
  votes,
  exact,
  pooled,
}: PlotRow & { readonly group: string | undefined }): string {
  const [low, high] = exact.map(roughPercent);
  const counted =
    pairs === 0
      ? 'no pair to count yet'
      : `${rounded(votes, 2)} of ${plural(pairs, 'pair')} worked, likely ${low} to ${high} %`;
  const subject = group === undefined ? name : `${group}, ${name}`;
  return `${subject}: ${counted}; ${roughPercent(pooled.mean)} % to be expected.`;
}

/** Columns of text: names, the scale, and what stands behind it. */
const [nameColumns, scaleColumns] = [22, 41];

/** Longest name of a group, and longest figures. */
const [mostColumns, figureColumns] = [80, 15];

const legendLines = [
  '',
  '├─●─┤ pairs that worked, and exact 95 % bounds',
  '‹·◇·› to be expected in the light of all families, and 95 % bounds',
];

function groupLines({ name, rows }: PlotGroup): string[] {
  return [...(name === undefined ? [] : [cutText(name, mostColumns)]), ...rows.flatMap(rowLines)];
}

function rowLines({ name, pairs, votes, exact, pooled }: PlotRow): string[] {
  const label = `${cutText(name, nameColumns).padEnd(nameColumns)} `;
  const expected = `${' '.repeat(nameColumns + 1)}${barOf(pooled.interval, pooled.mean, '‹·◇›')}`.trimEnd();
  if (pairs === 0) return [`${label}${' '.repeat(scaleColumns)} no pair yet`, expected];
  const figures = cutText(figuresOf(votes, pairs), figureColumns);
  return [`${label}${barOf(exact, votes / pairs, '├─●┤')} ${figures}`, expected];
}

function figuresOf(votes: number, pairs: number): string {
  return `${rounded(votes, 2)} of ${pairs}`;
}

/** A line over the scale: how it begins, goes on, shows its rate and ends. Where two meet, the rate is seen first, then the ends. */
function barOf([low, high]: readonly [number, number], rate: number, glyphs: string): string {
  const [start = '', middle = '', mark = '', end = ''] = glyphs;
  const cells = Array.from({ length: scaleColumns }, () => ' ');
  const [from, to] = [columnOf(low), columnOf(high)];
  for (let at = from; at <= to; at++) cells[at] = middle;
  cells[from] = start;
  cells[to] = end;
  cells[columnOf(rate)] = mark;
  return cells.join('');
}

function columnOf(share: number): number {
  return Math.round(share * (scaleColumns - 1));
}

function scaleLine(low: string, middle: string, high: string): string {
  const half = (scaleColumns - 1) / 2;
  const left = low.padEnd(half - 1) + middle;
  return ' '.repeat(nameColumns + 1) + left.padEnd(scaleColumns - high.length + 1) + high;
}

/** Measures of the drawing: its width, where the scale begins and how wide it is, and heights of a group's name, a row and the scale. */
const [width, scaleStart, scaleWidth, groupHeight, rowHeight, scaleHeight] = [560, 130, 280, 20, 30, 18];

/** Room for what the marks mean, and half the height of a mark. */
const [legendHeight, reach] = [40, 4];

/** Longest name of a row and of a group that finds room. */
const [nameLength, groupLength] = [21, 90];

function drawn(groups: readonly PlotGroup[]): Figure['drawing'] {
  const marks: Mark[] = [];
  let y = scaleHeight;
  for (const { name, rows } of groups) {
    if (name !== undefined) {
      marks.push({ shape: 'label', x: 0, y: y + groupHeight - 6, anchor: 'start', text: cutText(name, groupLength) });
      y += groupHeight;
    }
    for (const row of rows) {
      marks.push(...rowMarks(row, y), ...tickMarks(y + rowHeight - 4));
      y += rowHeight;
    }
  }
  return { width, height: y + legendHeight, marks: [...scaleMarks(), ...marks, ...legendMarks(y + 16)] };
}

function rowMarks({ name, pairs, votes, exact, pooled }: PlotRow, y: number): Mark[] {
  const label = cutText(name, nameLength);
  const bounds = exact.map(wholePercent).join('–');
  const figures = pairs === 0 ? 'no pair to count yet' : `${figuresOf(votes, pairs)}, ${bounds} %`;
  return [
    { shape: 'label', x: scaleStart - 10, y: y + 11, anchor: 'end', text: label },
    ...(pairs === 0 ? [] : rateMarks(votes / pairs, exact, y + 8)),
    ...diamondMarks(pooled.mean, pooled.interval, y + 19),
    { shape: 'label', x: scaleStart + scaleWidth + 10, y: y + 11, anchor: 'start', text: figures },
  ];
}

function rateMarks(rate: number, [low, high]: readonly [number, number], y: number): Mark[] {
  const end = (x: number): Mark => ({ shape: 'line', tone: 'value', from: [x, y - 3], to: [x, y + 3] });
  const [from, to] = [xOf(low), xOf(high)];
  return [
    { shape: 'line', tone: 'value', from: [from, y], to: [to, y] },
    end(from),
    end(to),
    { shape: 'bar', tone: 'value', x: xOf(rate) - reach, y: y - reach, width: 2 * reach, height: 2 * reach },
  ];
}

/** As wide as what is likely, its peak over what is to be expected. */
function diamondMarks(mean: number, [low, high]: readonly [number, number], y: number): Mark[] {
  const corners = [
    [xOf(low), y],
    [xOf(mean), y - reach],
    [xOf(high), y],
    [xOf(mean), y + reach],
  ] as const;
  return corners.map((from, at) => ({ shape: 'line', tone: 'value', from, to: corners[(at + 1) % 4] ?? from }));
}

function xOf(share: number): number {
  return rounded2(scaleStart + share * scaleWidth);
}

/** A hundredth of a unit is less than any screen shows. */
function rounded2(value: number): number {
  return Math.round(100 * value) / 100;
}

const quarters = [0, 0.25, 0.5, 0.75, 1];

/** The scale at the top: its numbers and its line. */
function scaleMarks(): Mark[] {
  const y = scaleHeight - 4;
  return [
    ...quarters.map(
      (share): Mark => ({ shape: 'label', x: xOf(share), y: y - 5, anchor: 'middle', text: `${100 * share} %` }),
    ),
    { shape: 'line', tone: 'scale', from: [scaleStart, y], to: [scaleStart + scaleWidth, y] },
    ...tickMarks(y),
  ];
}

/** Ticks stand between rows, where no value is shown. */
function tickMarks(y: number): Mark[] {
  return quarters.map((share) => ({ shape: 'line', tone: 'scale', from: [xOf(share), y], to: [xOf(share), y + 3] }));
}

function legendMarks(y: number): Mark[] {
  const start = scaleStart;
  const label = (text: string, at: number): Mark => ({
    shape: 'label',
    x: start + 40,
    y: at + 3,
    anchor: 'start',
    text,
  });
  const share = (x: number): number => x / scaleWidth;
  return [
    ...rateMarks(share(15), [0, share(30)], y - 3),
    label('pairs that worked, and exact 95 % bounds', y - 3),
    ...diamondMarks(share(15), [0, share(30)], y + 13),
    label('to be expected in the light of all families, 95 %', y + 13),
  ];
}
