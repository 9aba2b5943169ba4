import type { MeasuredTargets } from './measure-targets.ts';
import { figureText, limitText, outcomeText } from './row.ts';
import { type Target, targets } from './targets.ts';

/** The first two columns of the table: what is aimed for. */
export const aimCells: readonly (readonly [string, string])[] = targets.map((target) => [
  target.what,
  limitText(target),
]);

/** Every target in one Markdown table, with what was measured, or why it was not. */
export function toTargetTable({ measured, lacking }: MeasuredTargets): string {
  const body = targets.map((target, position) => {
    const value = target.value(measured);
    const isMeasured = !Number.isNaN(value);
    return [
      ...(aimCells[position] ?? []),
      figureText(value, target.unit),
      isMeasured ? outcomeText(value, target.most) : `not measured: ${whyNot(target, lacking)}`,
    ];
  });
  const lines = [['What', 'At most', 'Measured', ''], ...body];
  const widths = [0, 1, 2, 3].map((column) => Math.max(3, ...lines.map((line) => (line[column] ?? '').length)));
  const isNumber = (column: number): boolean => column === 1 || column === 2;
  const [head, ...rows] = lines.map((line) =>
    lineOf(line.map((cell, column) => cell[isNumber(column) ? 'padStart' : 'padEnd'](widths[column] ?? 0))),
  );
  const rule = lineOf(
    widths.map((width, column) => '-'.repeat(isNumber(column) ? width - 1 : width) + (isNumber(column) ? ':' : '')),
  );
  return [head, rule, ...rows].join('\n');
}

function whyNot({ part }: Target, lacking: MeasuredTargets['lacking']): string {
  return (lacking[part] ?? 'no figure').replaceAll(/[\n|]+/g, ' ').slice(0, 120);
}

function lineOf(cells: readonly string[]): string {
  return `| ${cells.join(' | ')} |`;
}
