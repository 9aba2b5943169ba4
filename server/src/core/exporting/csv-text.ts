/**
 * Rows as CSV.
 * Source: RFC 4180, and for null the habit of databases: nothing between two commas is null, two quotation marks are an empty text.
 * Laws (test/property/csv-text.property.test.ts):
 * - what is written as CSV reads back as it was
 * - no text is taken for a formula
 */
import type { Cell, Column, Row } from './table.ts';

/** The line of the column names. */
export function csvHeader(columns: readonly Column[]): string {
  return `${columns.map(({ name }) => quotedWhereNeeded(name)).join(',')}\r\n`;
}

/** The line of a row. */
export function csvLine(row: Row): string {
  return `${row.map(csvField).join(',')}\r\n`;
}

function csvField(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'string') return cell === '' ? '""' : quotedWhereNeeded(asText(cell));
  return quotedWhereNeeded(typeof cell === 'object' ? JSON.stringify(cell) : String(cell));
}

function quotedWhereNeeded(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/**
 * Spreadsheets calculate what begins with one of these, and what they calculate may send data away. An apostrophe before it, which
 * they do not show, says that it is text. Texts that begin with apostrophes and then one of these get one more, so that taking one
 * away gives back every text.
 * Source: OWASP, "CSV Injection" (from memory).
 */
const formula = /^'*[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]/;

function asText(text: string): string {
  return formula.test(text) ? `'${text}` : text;
}
