import type { Check } from '../checks/define-check.ts';
import type { Finding, Place } from '../checks/finding.ts';
import type { Drawing } from './drawing.ts';
import type { ReportName } from './report-name.ts';

/** Running text. Backticks mark what was typed in a file: keys, ids and values. */
export type Inline = string;

/** A part of a report. Reports give these and never format; renderers turn them into text or a page. */
export type Block =
  | { readonly kind: 'heading'; readonly level: 1 | 2; readonly text: Inline }
  | { readonly kind: 'paragraph'; readonly text: Inline }
  /** What somebody has to know before acting on what is near it. */
  | { readonly kind: 'caution'; readonly text: Inline }
  /** Named items, each with what is to be said about it. */
  | { readonly kind: 'items'; readonly items: readonly Item[] }
  /** Findings in the order they are shown in. */
  | { readonly kind: 'findings'; readonly findings: readonly Finding[] }
  /** What checks are for, each of them once. */
  | { readonly kind: 'checks'; readonly checks: readonly Pick<Check, 'check' | 'why'>[] }
  /** Columns of words are set left, columns of numbers right. The first column names its row. */
  | {
      readonly kind: 'table';
      /** What the rows are, in a few words; unlike that of any other table of the report. */
      readonly caption: string;
      readonly columns: readonly Column[];
      readonly rows: readonly (readonly Cell[])[];
    }
  | Figure;

/** Something to look at: drawn on a page, and with characters where nothing can be drawn. */
export interface Figure {
  readonly kind: 'figure';
  /** What it shows, in a few words. */
  readonly caption: Inline;
  /** What it comes to, for those who do not see it. */
  readonly description: Inline;
  readonly drawing: Drawing;
  /** Lines of at most 80 columns that show the same. */
  readonly lines: readonly string[];
}

/** Something with a name and what is to be said about it. */
export interface Item {
  readonly name: Inline;
  readonly lines: readonly Inline[];
  /** Where it stands in the files. */
  readonly place?: Place | undefined;
}

/** A column of a table. */
export interface Column {
  readonly title: string;
  readonly align: 'left' | 'right';
  /** Whether its values are short, and stay on one line. */
  readonly isShort?: true;
}

/** A value of a table; of a record also where it stands in the files, or which report is about it. */
export type Cell =
  | string
  | number
  | { readonly text: string; readonly place: Place }
  | { readonly text: string; readonly report: ReportName };

/** A cell that leads to a place, where there is one. */
export function placedCell(text: string, place: Place | undefined): Cell {
  return place ? { text, place } : text;
}

/** The text of a cell. */
export function cellText(cell: Cell): string {
  return typeof cell === 'object' ? cell.text : String(cell);
}

/** The places a report leads to, each as often as it is named. */
export function placesIn(blocks: readonly Block[]): Place[] {
  return blocks.flatMap(placesOf);
}

function placesOf(block: Block): readonly Place[] {
  switch (block.kind) {
    case 'findings':
      return block.findings.flatMap(({ place, related }) => [place, ...related.map((other) => other.place)]);
    case 'items':
      return block.items.flatMap(({ place }) => place ?? []);
    case 'table':
      return block.rows.flat().flatMap((cell) => (typeof cell === 'object' && 'place' in cell ? cell.place : []));
    case 'heading':
    case 'paragraph':
    case 'caution':
    case 'checks':
    case 'figure':
      return [];
  }
}
