import { middle, share } from '../comparisons.ts';
import type { Figure, Figures } from './sessions.ts';

/** One line of the table. */
interface Row {
  readonly what: string;
  readonly value: (figures: Figures, debounceMs: number) => number;
  readonly unit: 'ms' | 's' | 'MB';
  readonly most: number | undefined;
}

const rows: readonly Row[] = [
  ms('start to first diagnostics, cold', 'firstCold', middle, 300),
  ms('start to first diagnostics, cached', 'firstCached', middle, 300),
  seconds('base indexed, cold', 'indexedCold', 4),
  seconds('base indexed, cached', 'indexedCached', 1),
  seconds('whole base checked, cold', 'checkedCold', undefined),
  seconds('whole base checked, cached', 'checkedCached', undefined),
  ms('hover meanwhile, cold, 95 %', 'answerCold', p95, 20),
  ms('hover meanwhile, cold, longest', 'answerCold', longest, undefined),
  ms('hover meanwhile, cached, 95 %', 'answerCached', p95, 20),
  ms('hover meanwhile, cached, longest', 'answerCached', longest, undefined),
  ms('key to diagnostics, 70 lines, 95 %', 'keySmall', p95, 60),
  computed('  without the debounce, median', 'keySmall', middle, 3),
  computed('  without the debounce, 95 %', 'keySmall', p95, 8),
  ms('key to diagnostics, 5,000 lines, 95 %', 'keyBig', p95, undefined),
  computed('  without the debounce, median', 'keyBig', middle, 30),
  computed('  without the debounce, 95 %', 'keyBig', p95, 60),
  computed('  the same, broken, median', 'keyBroken', middle, undefined),
  computed('  the same, broken, 95 %', 'keyBroken', p95, 150),
  computed('joint reasoning after a key, median', 'joint', middle, undefined),
  computed('joint reasoning after a key, 95 %', 'joint', p95, 50),
  ms('hover, 70 lines, 95 %', 'hoverSmall', p95, 3),
  ms('hover, 5,000 lines, 95 %', 'hoverBig', p95, 5),
  ms('completion, 70 lines, 95 %', 'completionSmall', p95, 5),
  ms('completion, 5,000 lines, 95 %', 'completionBig', p95, 30),
  memory('memory, 50 files open, cold', 'memoryCold', 250),
  memory('memory, 50 files open, cached', 'memory', 250),
  memory('  after 1,000 more, opened and closed', 'memoryAfter', undefined),
];

/** Both servers side by side, at most 80 columns wide. What one of them does not do is left empty. */
export function toServerTable(
  own: { readonly figures: Figures; readonly debounceMs: number },
  peer: { readonly figures: Figures; readonly debounceMs: number },
): string {
  const head = toLine(['What', 'swaplore', 'peer', '÷', 'at most', '']);
  const lines = rows.map(({ what, value, unit, most }) => {
    const [a, b] = [value(own.figures, own.debounceMs), value(peer.figures, peer.debounceMs)];
    const isMissed = most !== undefined && a > most;
    return toLine([
      what,
      toFigure(a, unit),
      toFigure(b, unit),
      Number.isFinite(a / b) ? (a / b).toFixed(2) : '',
      most === undefined ? '' : `${most} ${unit}`,
      most === undefined || Number.isNaN(a) ? '' : isMissed ? 'missed' : 'met',
    ]);
  });
  return [head, ...lines].join('\n');
}

const widths = [38, 10, 10, 6, 8, 6];

function toLine(cells: readonly string[]): string {
  const padded = cells.map((cell, column) => {
    const width = widths[column] ?? 0;
    return column === 0 ? cell.padEnd(width) : column === 5 ? ` ${cell}` : cell.padStart(width);
  });
  return padded.join('').trimEnd();
}

function toFigure(value: number, unit: Row['unit']): string {
  if (Number.isNaN(value)) return '–';
  return `${value.toFixed(unit === 's' ? 2 : unit === 'ms' ? 1 : 0)} ${unit}`;
}

type Summary = (values: readonly number[]) => number;

function ms(what: string, figure: Figure, of: Summary, most: number | undefined): Row {
  return { what, value: (figures) => of(figures.of(figure)), unit: 'ms', most };
}

function computed(what: string, figure: Figure, of: Summary, most: number | undefined): Row {
  return { what, value: (figures, debounceMs) => of(figures.of(figure)) - debounceMs, unit: 'ms', most };
}

function seconds(what: string, figure: Figure, most: number | undefined): Row {
  return { what, value: (figures) => middle(figures.of(figure)) / 1000, unit: 's', most };
}

function memory(what: string, figure: Figure, most: number | undefined): Row {
  return { what, value: (figures) => middle(figures.of(figure)) / 1e6, unit: 'MB', most };
}

function p95(values: readonly number[]): number {
  return share(values, 0.95);
}

function longest(values: readonly number[]): number {
  return values.length > 0 ? Math.max(...values) : Number.NaN;
}
