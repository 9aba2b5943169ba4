import { middle, p95 } from '../quantiles.ts';
import { figureText, limitText, type Row } from '../row.ts';
import { type Measured, targets } from '../targets.ts';
import type { Figure, ServedFigures } from './sessions.ts';

type ServerRow = Row<Pick<Measured, 'server'>>;

/** What is aimed for, and what is good to know besides. */
const rows: readonly ServerRow[] = [
  ...targets.filter(({ part }) => part === 'server'),
  besides('whole base checked, cold', 'checkedCold', (values) => middle(values) / 1000, 's'),
  besides('whole base checked, cached', 'checkedCached', (values) => middle(values) / 1000, 's'),
  besides('hover meanwhile, cold, longest', 'answerCold', longest, 'ms'),
  besides('hover meanwhile, cached, longest', 'answerCached', longest, 'ms'),
  besides('key to diagnostics, 5,000 lines, 95 %', 'keyBig', p95, 'ms'),
  besides('key, 5,000 broken, computing, median', 'keyBroken', (values, waitMs) => middle(values) - waitMs, 'ms'),
  besides('joint reasoning after a key, median', 'joint', (values, waitMs) => middle(values) - waitMs, 'ms'),
];

/** Both servers side by side, at most 80 columns wide. What one of them does not do is left empty. */
export function toServerTable(own: ServedFigures, peer: ServedFigures): string {
  const head = toLine(['What', 'swaplore', 'peer', '÷', 'at most', '']);
  const lines = rows.map((row) => {
    const [a, b] = [row.value({ server: own }), row.value({ server: peer })];
    const isMissed = row.most !== undefined && a > row.most;
    return toLine([
      row.what,
      figureText(a, row.unit),
      figureText(b, row.unit),
      Number.isFinite(a / b) ? (a / b).toFixed(2) : '',
      limitText(row),
      row.most === undefined || Number.isNaN(a) ? '' : isMissed ? 'missed' : 'met',
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

function besides(
  what: string,
  figure: Figure,
  of: (values: readonly number[], debounceMs: number) => number,
  unit: ServerRow['unit'],
): ServerRow {
  return { what, value: ({ server: { figures, debounceMs } }) => of(figures.of(figure), debounceMs), unit };
}

function longest(values: readonly number[]): number {
  return values.length > 0 ? Math.max(...values) : Number.NaN;
}
