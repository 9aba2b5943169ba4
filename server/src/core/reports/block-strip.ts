/**
 * An image of a ROM as a strip: how much each part holds, and where it differs from the image it is held against.
 * Laws (test/property/block-strip.property.test.ts):
 * - a strip has a mark for every block, on at most four lines of 80 columns
 * - a block that differs is marked, and no part without one is
 */
import { type Block, blockBytes } from '../rom-images/image-blocks.ts';
import { binarySize } from '../text/binary-size.ts';
import { hexOffset } from '../text/hex-offset.ts';
import { plural } from '../text/plural.ts';
import { rounded } from '../text/rounded.ts';
import type { Figure } from './document.ts';
import type { Drawing, Mark } from './drawing.ts';

/** What a strip is made from. */
export interface StripInput {
  /** What to call the image. */
  readonly name: string;
  /** Of the image; at least one. */
  readonly blocks: readonly Block[];
  /** Numbers of the blocks that differ from those of the other image. */
  readonly differing: ReadonlySet<number>;
}

/** Cells of one line, and the most lines there are. */
const [cellsInRow, mostRows] = [64, 4];

/** Neighbouring blocks that share a mark. */
interface Cell {
  /** Entropy of its blocks on average, 0 to 8 bits a byte. */
  readonly entropy: number;
  /** What all of its blocks are full of. */
  readonly fill: Block['fill'];
  readonly differs: boolean;
}

/** The strip of an image. */
export function blockStrip({ name, blocks, differing }: StripInput): Figure {
  const perCell = blocksInCell(blocks.length);
  const cells: Cell[] = [];
  for (let at = 0; at < blocks.length; at += perCell) {
    const own = blocks.slice(at, at + perCell);
    const differs = own.some((_, offset) => differing.has(at + offset));
    cells.push({ ...joined(own), differs });
  }
  const rows: Row[] = [];
  for (let at = 0; at < cells.length; at += cellsInRow) {
    rows.push({ offset: at * perCell * blockBytes, cells: cells.slice(at, at + cellsInRow) });
  }
  return {
    kind: 'figure',
    caption: `${name}: entropy of each ${binarySize(perCell * blockBytes)}${differing.size === 0 ? '' : ', what differs marked below'}`,
    description: described(blocks, differing.size),
    drawing: drawn(rows),
    lines: [...rowLines(rows), ...legendOf(cells)],
  };
}

interface Row {
  /** Of its first byte. */
  readonly offset: number;
  readonly cells: readonly Cell[];
}

/** The smallest power of two with which all blocks find room. */
function blocksInCell(blocks: number): number {
  let size = 1;
  while (Math.ceil(blocks / size) > cellsInRow * mostRows) size *= 2;
  return size;
}

function joined(blocks: readonly Block[]): Omit<Cell, 'differs'> {
  const [first] = blocks;
  const isOne = blocks.every(({ fill }) => fill === first?.fill);
  const entropy = blocks.reduce((sum, block) => sum + block.entropy, 0) / blocks.length;
  return { entropy, fill: isOne ? first?.fill : undefined };
}

function described(blocks: readonly Block[], differing: number): string {
  const blank = blocks.filter(({ fill }) => fill !== undefined).length;
  const held = blocks.filter(({ fill }) => fill === undefined).map(({ entropy }) => entropy);
  const mean = held.reduce((sum, entropy) => sum + entropy, 0) / held.length;
  const entropy =
    held.length === 0 ? '' : ` The others hold ${rounded(mean, 2)} bits of entropy a byte on average, of 8 at most.`;
  const difference = differing === 0 ? '' : ` ${plural(differing, 'block')} ${differing === 1 ? 'differs' : 'differ'}.`;
  return `${blank} of ${plural(blocks.length, 'block')} of 4 KiB ${blank === 1 ? 'is' : 'are'} blank.${entropy}${difference}`;
}

/** From nearly none to eight bits; which one is meant can be told without colour. */
const levels = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];

function rowLines(rows: readonly Row[]): string[] {
  const labels = rows.map(({ offset }) => hexOffset(offset));
  const width = Math.max(...labels.map(({ length }) => length));
  return rows.flatMap(({ cells }, row) => {
    const values = `${labels[row]?.padEnd(width)}  ${cells.map(cellMark).join('')}`;
    if (!cells.some(({ differs }) => differs)) return [values];
    const marks = cells.map(({ differs }) => (differs ? '^' : ' ')).join('');
    return [values, `${' '.repeat(width)}  ${marks}`.trimEnd()];
  });
}

function cellMark({ entropy, fill }: Cell): string {
  if (fill !== undefined) return fill === 'ff' ? '·' : '0';
  return levels[Math.max(0, Math.ceil(entropy) - 1)] ?? '█';
}

/** What the marks mean, of those that stand there. */
function legendOf(cells: readonly Cell[]): string[] {
  const has = (test: (cell: Cell) => boolean, says: string): string[] => (cells.some(test) ? [says] : []);
  const says = [
    ...has(({ fill }) => fill === undefined, '▁ to █ entropy up to 1 to 8 bits a byte'),
    ...has(({ fill }) => fill === 'ff', '· all FFh'),
    ...has(({ fill }) => fill === '00', '0 all 00h'),
    ...has(({ differs }) => differs, '^ differs'),
  ];
  return [says.join(', ')];
}

/** Measures of the drawing: room for offsets, a cell, a line with its bars and the lane beneath them. */
const [labelWidth, cellWidth, rowHeight, barHeight, laneHeight] = [62, 10, 46, 28, 6];

function drawn(rows: readonly Row[]): Drawing {
  return {
    width: labelWidth + cellsInRow * cellWidth,
    height: rows.length * rowHeight,
    marks: rows.flatMap(({ offset, cells }, row) => {
      const base = row * rowHeight + barHeight + 2;
      const end = labelWidth + cells.length * cellWidth;
      return [
        { shape: 'label', x: labelWidth - 6, y: base, anchor: 'end', text: hexOffset(offset) },
        ...cells.flatMap((cell, column) => cellMarks(cell, labelWidth + column * cellWidth, base)),
        { shape: 'line', tone: 'scale', from: [labelWidth, base], to: [end, base] },
      ];
    }),
  };
}

/** A bar as high as the entropy, a low faint one for all 00h and none for all FFh; what differs has a mark below the line. */
function cellMarks({ entropy, fill, differs }: Cell, x: number, base: number): Mark[] {
  const width = cellWidth - 1;
  const height = fill === '00' ? 3 : fill === 'ff' ? 0 : Math.max(1, Math.round((entropy / 8) * barHeight));
  const tone = fill === undefined ? 'value' : 'scale';
  return [
    ...(height === 0 ? [] : [{ shape: 'bar', tone, x, y: base - height, width, height } as const]),
    ...(differs ? [{ shape: 'bar', tone: 'alarm', x, y: base + 4, width, height: laneHeight } as const] : []),
  ];
}
