import { TextDecoder } from 'node:util';
import { parse } from 'csv-parse/sync';
import type { MappingTableData } from '../../../../schemas/gen/records.ts';
import type { Table, TableRow } from '../../core/importing/table.ts';

/** Why bytes are no table, as a sentence, and what to do. */
export interface NoTable {
  readonly reason: string;
  readonly help?: string;
}

/** Reads the bytes of a table of comma-separated values. Source: RFC 4180, with other delimiters and line ends. */
export function parseTable(bytes: Uint8Array, settings: MappingTableData): Table | NoTable {
  const decoded = decode(bytes, settings.encoding);
  if ('reason' in decoded) return decoded;
  const { text, hint, linesBefore } = withoutHint(decoded.text);
  const headingRow = settings.heading_row ?? 1;
  const said = settings.delimiter ? delimiters[settings.delimiter] : hint;
  const delimiter = said === undefined ? findDelimiter(text, headingRow) : { value: said };
  if ('reason' in delimiter) return delimiter;
  return tableOf(parseRows(text, delimiter.value), headingRow, linesBefore);
}

/** The delimiter that divides the headings into most cells. */
function findDelimiter(text: string, headingRow: number): { readonly value: string } | NoTable {
  const tried = Object.values(delimiters).map((value) => {
    const rows = parseRows(text, value, headingRow);
    return { value, width: 'reason' in rows ? 0 : (rows[headingRow - 1]?.cells.length ?? 0) };
  });
  const [most, next] = tried.sort((a, b) => b.width - a.width);
  if (most && next && (most.width > next.width || most.width <= 1)) return most;
  const help = 'Say in the map which is meant: `delimiter`.';
  return { reason: 'Two delimiters divide its headings equally well.', help };
}

/** Rows among which headings are looked for. */
const mostAbove = 10;

/** A table about which nobody has said anything, with what has to be said to read it so. */
export interface FoundTable {
  readonly table: Table;
  readonly settings: MappingTableData;
}

/** Finds out how a table is written: what is no UTF-8 is taken for Western text, and rows with few cells for what stands above headings. */
export function findTable(bytes: Uint8Array): FoundTable | NoTable {
  const encodings: readonly MappingTableData[] = [{}, { encoding: 'windows-1252' }];
  const rows = Array.from(
    { length: mostAbove },
    (_, position): MappingTableData => (position === 0 ? {} : { heading_row: position + 1 }),
  );
  for (const encoding of encodings) {
    const found = rows.flatMap((row) => {
      const settings = { ...encoding, ...row };
      const table = parseTable(bytes, settings);
      return 'reason' in table ? [] : { table, settings };
    });
    const most = Math.max(...found.map(({ table }) => namesIn(table)));
    const first = found.find(({ table }) => namesIn(table) >= most * likeMost);
    if (first) return first;
  }
  const none = parseTable(bytes, {});
  return 'reason' in none ? none : { table: none, settings: {} };
}

/** Share of the most cells that a row of headings has: some columns have no heading, and some rows a cell too many. */
const likeMost = 0.8;

function namesIn({ headings }: Table): number {
  return headings.filter((heading) => heading !== '').length;
}

const delimiters = { comma: ',', semicolon: ';', tab: '\t', pipe: '|' } as const;

function decode(bytes: Uint8Array, encoding: MappingTableData['encoding']): { readonly text: string } | NoTable {
  // `TextDecoder` takes the mark away.
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return readable(bytes, 'utf-16le');
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return readable(bytes, 'utf-16be');
  return readable(bytes, encoding ?? 'utf-8');
}

function readable(bytes: Uint8Array, encoding: string): { readonly text: string } | NoTable {
  let text: string;
  try {
    text = new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch {
    return {
      reason: `It is not ${encoding.toUpperCase()}.`,
      help: 'Save it as UTF-8. Where older Windows programs wrote it, the map can say so: `encoding: windows-1252`.',
    };
  }
  const nul = text.indexOf('\u0000');
  if (nul < 0) return { text };
  const reason = text.startsWith('PK')
    ? 'It is a spreadsheet file and no text.'
    : 'It holds NUL characters, as UTF-16 without its mark does.';
  return { reason, help: 'Save it as text with separators (CSV), in UTF-8.' };
}

/** The text without a first line `sep=;`, which tells spreadsheets the delimiter and is no row. */
function withoutHint(text: string): { readonly text: string; readonly hint?: string; readonly linesBefore: number } {
  const [line = '', hint] = /^"?sep=(.)"?(?:\r\n|\n|\r)/i.exec(text) ?? [];
  return hint === undefined ? { text, linesBefore: 0 } : { text: text.slice(line.length), hint, linesBefore: 1 };
}

/** A row as parsed, with the line it begins in. */
type ParsedRow = Pick<TableRow, 'line' | 'cells'>;

/** The rows of a text, or its first ones. */
function parseRows(text: string, delimiter: string, to?: number): readonly ParsedRow[] | NoTable {
  let line = 1;
  const rows: ParsedRow[] = [];
  try {
    parse(text, {
      delimiter,
      record_delimiter: ['\r\n', '\n', '\r'],
      relax_column_count: true,
      // A sign for inches inside a cell is no quote.
      relax_quotes: true,
      ...(to === undefined ? {} : { to }),
      on_record: (cells: string[]) => {
        rows.push({ line, cells });
        // The parser counts CRLF inside a cell as two.
        line += 1 + (cells.join().match(/\r\n|\r|\n/g)?.length ?? 0);
        return null;
      },
    });
  } catch {
    return {
      reason: `A quote that opens in row ${rows.length + 1}, line ${line}, is never closed.`,
      help: 'Close it, or double it where it belongs to the text of the cell.',
    };
  }
  return rows;
}

function tableOf(rows: readonly ParsedRow[] | NoTable, headingRow: number, linesBefore: number): Table | NoTable {
  if ('reason' in rows) return rows;
  const headings = rows[headingRow - 1]?.cells.map((cell) => cell.trim().replace(/\s+/g, ' '));
  if (headings === undefined || headings.every((heading) => heading === '')) {
    return { reason: `It has no headings in row ${headingRow}.` };
  }
  while (headings.at(-1) === '') headings.pop();
  const numbered = rows.map(({ line, cells }, position) => ({ row: position + 1, line: line + linesBefore, cells }));
  return { headings, rows: numbered.slice(headingRow) };
}
