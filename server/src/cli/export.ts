import { resolve } from 'node:path';
import { internalCheckFailed } from '../core/checks/internal-check-failed.ts';
import { coveredRows, coverOf } from '../core/exporting/cover-cells.ts';
import { exportTables } from '../core/exporting/export-tables.ts';
import { heldReferences } from '../core/exporting/held-references.ts';
import type { ExportSource, Row } from '../core/exporting/table.ts';
import { keyNodes } from '../core/schema/key-rows.ts';
import { inThousands } from '../core/text/in-thousands.ts';
import { plural } from '../core/text/plural.ts';
import { visible } from '../core/text/visible.ts';
import {
  type FilledTable,
  type LibraryFormats,
  writeCsv,
  writeFolder,
  writeJsonLines,
} from '../host/disk/export-files.ts';
import { isTaken, placeWhole } from '../host/disk/place-whole.ts';
import { codeOf, reasonOf } from '../host/system-reason.ts';
import {
  type Arguments,
  type Command,
  folderOption,
  jsonOption,
  noCacheOption,
  type Program,
  todayOption,
} from './command.ts';
import { exitCodes, UsageError } from './exit-codes.ts';
import { openOneBase, runToEnd, shownPath } from './open-base.ts';
import { readToday } from './read-today.ts';
import { type Terminal, toJsonText } from './terminal.ts';

const formats = ['jsonl', 'csv', 'parquet', 'sqlite'] as const;

type Format = (typeof formats)[number];

/** `swaplore export`: everything recorded and everything that follows from it, as tables for other programs. */
export const exportBase: Command = {
  name: 'export',
  takes: `--to ${formats.join('|')} --out PATH`,
  positionals: { min: 0, max: 0 },
  describe:
    'Write records, verdicts, rule results, odds and findings as tables for other programs. jsonl, csv and parquet make a folder with one file a table, sqlite makes one file. The table `columns` says what each column means.',
  options: [
    { name: 'to', value: 'FORMAT', describe: `One of ${formats.join(', ')}.` },
    { name: 'out', value: 'PATH', describe: 'The folder or file to make. Nothing may stand there yet.' },
    folderOption,
    todayOption,
    jsonOption,
    noCacheOption,
  ],
  run: async (args, terminal, program) => {
    const today = readToday(args);
    const format = readFormat(args);
    const path = readPath(args, terminal);
    const { snapshot } = await openOneBase(args, terminal, program);
    const source = { snapshot, findings: runToEnd(snapshot, today), today };
    const written = await write({ format, path, source, terminal, program });
    terminal.out(args.values['json'] === true ? toJsonText(written) : inWords(written));
    return source.findings.some(({ check }) => check === internalCheckFailed.check)
      ? exitCodes.failed
      : exitCodes.clean;
  },
};

function readFormat({ values: { to } }: Arguments): Format {
  const format = formats.find((name) => name === to);
  if (format) return format;
  const help = `Name one of ${formats.join(', ')}.`;
  throw new UsageError(
    to === undefined ? 'export needs --to FORMAT.' : `--to cannot be ${String(to) || 'empty'}.`,
    help,
  );
}

/** The path to write to. Looked at before the base is read, since that may take long. */
function readPath({ values: { out } }: Arguments, terminal: Terminal): string {
  if (typeof out !== 'string' || out === '') {
    throw new UsageError('export needs --out PATH.', 'Name a folder or a file that is not there yet.');
  }
  const path = resolve(terminal.cwd, out);
  try {
    if (!isTaken(path)) return path;
  } catch (error) {
    throw new UsageError(`${shownPath(path, terminal)} cannot be written: ${reasonOf(error)}.`);
  }
  throw taken(path, terminal);
}

function taken(path: string, terminal: Terminal): UsageError {
  return new UsageError(
    `${shownPath(path, terminal)} is there already, so nothing was written.`,
    'Name another place, or move what stands there.',
  );
}

interface Task {
  readonly format: Format;
  readonly path: string;
  readonly source: ExportSource;
  readonly terminal: Terminal;
  readonly program: Program;
}

/** What was written, as `--json` prints it. */
interface Written {
  readonly to: Format;
  readonly out: string;
  readonly tables: readonly { readonly name: string; readonly rows: number }[];
}

async function write({ format, path, source, terminal, program }: Task): Promise<Written> {
  const tables = exportTables(keyNodes);
  const cover = coverOf(source.snapshot);
  const counts = new Map<string, number>();
  const filled = tables.map((table) => {
    return {
      table,
      rows: counted(coveredRows(table, table.rows(source), cover), (rows) => counts.set(table.name, rows)),
    };
  });
  const out = shownPath(path, terminal);
  try {
    await placeWhole(path, (aside) => writers[format](aside, filled, { source, program }));
  } catch (error) {
    if (codeOf(error) === 'EEXIST') throw taken(path, terminal);
    if (!(error instanceof Error && 'syscall' in error)) throw error;
    throw new UsageError(`${out} cannot be written: ${reasonOf(error)}.`, 'Nothing was left there.');
  }
  return { to: format, out, tables: tables.map(({ name }) => ({ name, rows: counts.get(name) ?? 0 })) };
}

function* counted(rows: Iterable<Row>, done: (count: number) => void): Generator<Row> {
  let count = 0;
  for (const row of rows) {
    count++;
    yield row;
  }
  done(count);
}

type Write = (
  path: string,
  tables: readonly FilledTable[],
  about: Pick<Task, 'source' | 'program'>,
) => Promise<void> | void;

const writers: Readonly<Record<Format, Write>> = {
  jsonl: (path, tables) => writeFolder(path, tables, { ending: 'jsonl', write: writeJsonLines }),
  csv: (path, tables) => writeFolder(path, tables, { ending: 'csv', write: writeCsv }),
  parquet: (path, tables, { program }) =>
    writeFolder(path, tables, { ending: 'parquet', write: libraryFormats(program).writeParquet }),
  sqlite: (path, tables, { program, source }) => {
    const references = heldReferences(
      tables.map(({ table }) => table),
      source,
    );
    return libraryFormats(program).writeSqlite(path, tables, references);
  },
};

function libraryFormats({ loadFormats }: Program): LibraryFormats {
  if (!loadFormats) throw new Error('The program was put together without its formats.');
  return loadFormats();
}

function inWords({ out, tables }: Written): string {
  const width = Math.max(...tables.map(({ name }) => name.length));
  const lines = tables.map(({ name, rows }) => `  ${name.padEnd(width)}  ${inThousands(rows).padStart(9)}`);
  return `${plural(tables.length, 'table')} written to ${visible(out)}, with rows:\n${lines.join('\n')}\n`;
}
