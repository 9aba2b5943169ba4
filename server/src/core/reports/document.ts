/** Running text. Backticks mark what was typed in a file: keys, ids and values. */
type Inline = string;

/** A part of a report. Reports give these and never format; renderers turn them into text and, later, other forms. */
export type Block =
  | { readonly kind: 'heading'; readonly level: 1 | 2; readonly text: Inline }
  | { readonly kind: 'paragraph'; readonly text: Inline }
  /** Named items, each with what is to be said about it. */
  | { readonly kind: 'items'; readonly items: readonly { readonly name: Inline; readonly lines: readonly Inline[] }[] }
  /** Columns of words are set left, columns of numbers right. */
  | {
      readonly kind: 'table';
      readonly columns: readonly Column[];
      readonly rows: readonly (readonly (string | number)[])[];
    };

/** A column of a table. */
export interface Column {
  readonly title: string;
  readonly align: 'left' | 'right';
}
