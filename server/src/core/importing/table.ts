/** A row of a table below its headings. */
export interface TableRow {
  /** Its number in a spreadsheet: counted from 1, the headings and empty rows among them. */
  readonly row: number;
  /** Line of the file it begins in, counted from 1. It differs from the row where cells hold line breaks. */
  readonly line: number;
  /** Its cells as they stand there; there may be more or fewer than headings. */
  readonly cells: readonly string[];
}

/** A table as read. */
export interface Table {
  /** On one line each, without spaces at the ends. */
  readonly headings: readonly string[];
  readonly rows: readonly TableRow[];
}
