import type { Finding } from '../checks/finding.ts';
import { visible } from '../text/visible.ts';
import { type Block, type Column, cellText, type Item } from './document.ts';

/** How much of a terminal a report may use and whether it may be decorated. */
export interface TextStyle {
  /** Columns of the terminal. */
  readonly width: number;
  /** Marks a heading, or gives it back as it is. */
  readonly strong: (text: string) => string;
}

/**
 * A report as plain text with lines of at most `width` columns, long words and tables excepted that are too wide even with one column
 * wrapped. What could act on a terminal is escaped.
 */
export function renderText(blocks: readonly Block[], style: TextStyle): string {
  return `${blocks.map((block) => renderBlock(block, style)).join('\n\n')}\n`;
}

/** Between words; a number and its per cent sign are one. */
const breaks = /\s+(?!%)|(?<!\d)\s+/;

/** Lines of at most `width` columns, broken at spaces, each behind `indent`. */
export function wrapText(text: string, width: number, indent = ''): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(breaks).filter((part) => part !== '')) {
    const longer = line === '' ? indent + word : `${line} ${word}`;
    if (line !== '' && longer.length > width) {
      lines.push(line);
      line = indent + word;
    } else {
      line = longer;
    }
  }
  return line === '' ? lines : [...lines, line];
}

function renderBlock(block: Block, style: TextStyle): string {
  switch (block.kind) {
    case 'heading': {
      const text = visible(block.text);
      return style.strong(block.level === 1 ? `${text}\n${'='.repeat(text.length)}` : text);
    }
    case 'paragraph':
    case 'caution':
      return wrapText(visible(block.text), style.width).join('\n');
    case 'items':
      return renderItems(block.items, style);
    case 'findings':
      return renderItems(block.findings.map(toItem), style);
    case 'checks':
      return renderItems(
        block.checks.map(({ check, why }) => ({ name: check, lines: [why] })),
        style,
      );
    case 'table':
      return renderTable(block, style.width);
    case 'figure':
      return [...wrapText(visible(block.caption), style.width), ...block.lines.map(visible)].join('\n');
  }
}

function renderItems(items: readonly Item[], style: TextStyle): string {
  return items
    .map(({ name, lines }) =>
      [
        ...wrapText(visible(name), style.width).map(style.strong),
        ...lines.flatMap((line) => wrapText(visible(line), style.width, '  ')),
      ].join('\n'),
    )
    .join('\n\n');
}

function toItem({ severity, record, check, place, message, help }: Finding): Item {
  return {
    name: `${severity}: ${record ?? check} (${place.file})`,
    lines: help === undefined ? [message] : [message, help],
  };
}

function renderTable({ columns, rows }: Extract<Block, { kind: 'table' }>, width: number): string {
  const cells = [
    columns.map((column) => visible(column.title)),
    ...rows.map((row) => row.map((cell) => visible(cellText(cell)))),
  ];
  const natural = columns.map((_, column) => Math.max(...cells.map((row) => row[column]?.length ?? 0)));
  const widths = fitted(natural, columns, cells, width);
  const renderLine = (line: readonly string[]): string =>
    columns
      .map(({ align }, column) => {
        const cell = line[column] ?? '';
        return align === 'left' ? cell.padEnd(widths[column] ?? 0) : cell.padStart(widths[column] ?? 0);
      })
      .join('  ')
      .trimEnd();
  const renderRow = (row: readonly string[]): string => {
    const wrapped = row.map((cell, column) => {
      const most = widths[column] ?? 0;
      return cell.length > most ? wrapText(cell, most) : [cell];
    });
    const height = Math.max(...wrapped.map(({ length }) => length));
    return Array.from({ length: height }, (_, line) => renderLine(wrapped.map((cell) => cell[line] ?? ''))).join('\n');
  };
  return cells.map(renderRow).join('\n');
}

/** The widths with the widest column of words made narrower where that has the table fit; the first column names its row and stays. */
function fitted(
  widths: readonly number[],
  columns: readonly Column[],
  cells: readonly (readonly string[])[],
  width: number,
): readonly number[] {
  const excess = widths.reduce((sum, one) => sum + one + 2, -2) - width;
  const mayWrap = widths.map((one, at) => (at > 0 && columns[at]?.align === 'left' ? one : 0));
  const widest = mayWrap.indexOf(Math.max(...mayWrap));
  const words = cells.flatMap((row) => (row[widest] ?? '').split(breaks));
  const longestWord = words.reduce((longest, { length }) => Math.max(longest, length), 0);
  const room = (widths[widest] ?? 0) - excess;
  return excess > 0 && room >= longestWord ? widths.with(widest, room) : widths;
}
