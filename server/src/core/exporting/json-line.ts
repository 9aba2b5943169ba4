import type { Column, Row } from './table.ts';

/** A row as a line of JSON: an object with every column, null included, so that each line shows the whole form. */
export function jsonLine(columns: readonly Column[], row: Row): string {
  return `${JSON.stringify(Object.fromEntries(columns.map(({ name }, at) => [name, row[at]])))}\n`;
}
