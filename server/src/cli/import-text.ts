import type { MapFault } from '../core/importing/map-fault.ts';
import type { Difference, ImportedRecord, ImportPlan } from '../core/importing/plan-import.ts';
import type { Refusal } from '../core/importing/refusal.ts';
import { rowsInWords } from '../core/importing/told-records.ts';
import { nameOf } from '../core/model/record.ts';
import { wrapText } from '../core/reports/render-text.ts';
import type { Tape } from '../core/syntax/tape.ts';
import { grouped } from '../core/terms/grouped.ts';
import { kinds } from '../core/terms/kinds.ts';
import { inThousands } from '../core/text/in-thousands.ts';
import { LineIndex } from '../core/text/line-index.ts';
import { shortName } from '../core/text/short-name.ts';
import { visible } from '../core/text/visible.ts';
import { withShortQuotes } from '../core/text/with-short-quotes.ts';
import { shownFile } from './open-base.ts';
import { styled, type Terminal } from './terminal.ts';

/** An import as it is shown. */
export interface ImportRun {
  readonly plan: ImportPlan;
  /** The table as typed. */
  readonly table: string;
  /** What the base is called. */
  readonly base: string;
  /** Folder of the base, as output shows it. */
  readonly root: string;
  readonly isDryRun: boolean;
}

/** What is wrong with a map, place by place. */
export function mapFaultsText(
  path: string,
  { tape, faults }: { readonly tape: Tape; readonly faults: readonly MapFault[] },
  terminal: Terminal,
): string {
  const lines = new LineIndex(tape.text);
  const parts = faults.map(({ start, message, help }) => {
    const { line, character } = lines.positionAt(start);
    const head = `${visible(path)}:${line + 1}:${character + 1}  ${styled(terminal, 'red', 'error')}`;
    return [head, ...sentences(message, help, terminal)].join('\n');
  });
  const count = faults.length === 1 ? 'a fault' : `${faults.length} faults`;
  return `${parts.join('\n\n')}\n\nThe map has ${count}, so nothing was imported.\n`;
}

/** An import for a person at a terminal. */
export function importText(run: ImportRun, terminal: Terminal): string {
  const { plan, isDryRun } = run;
  const parts = [
    ...Array.from(grouped(plan.refusals, refusalKey).values(), (group) => refusalText(run, group, terminal)),
    ...Array.from(grouped(plan.differences, differenceKey).values(), (group) => differenceText(run, group, terminal)),
    ...(isDryRun ? samples(run, terminal) : []),
    summary(run, terminal),
    ...(isCut(run) ? ['With --json nothing is left out.'] : []),
  ];
  return `${parts.join('\n\n')}\n`;
}

/** The same as data. */
export function importData({ plan, table, base, isDryRun }: ImportRun): unknown {
  return {
    base,
    table,
    dryRun: isDryRun,
    rows: plan.rows,
    written: plan.records.map((record) => ({
      record: nameOf(record),
      file: record.path,
      rows: record.rows,
      ...(isDryRun ? { text: record.text } : {}),
    })),
    here: plan.here,
    refusals: plan.refusals,
    differences: plan.differences.map(({ path, ...difference }) => ({ ...difference, file: path })),
  };
}

/** Rows named in one heading. */
const mostRows = 12;

/** Whether the text leaves out rows or files. */
function isCut({ plan: { refusals, records }, isDryRun }: ImportRun): boolean {
  const shown = new Set(records.map(({ kind }) => kind)).size;
  return (
    (isDryRun && records.length > shown) ||
    [...grouped(refusals, refusalKey).values()].some((group) => group.length > mostRows + 1)
  );
}

function refusalKey({ column, value, reason, help }: Refusal): string {
  return JSON.stringify([column, value, reason, help]);
}

function refusalText({ table }: ImportRun, group: readonly Refusal[], terminal: Terminal): string {
  const [first] = group;
  if (!first) return '';
  const { column, value = '', reason, help } = first;
  const cell =
    column === undefined ? '' : `, \`${shortName(column)}\` is ${value === '' ? 'blank' : `\`${shortName(value)}\``}`;
  const head = wrapText(`${visible(table)}, ${placeOf(group)}${cell}`, terminal.columns);
  return [...head.map((line) => styled(terminal, 'bold', line)), ...sentences(reason, help, terminal)].join('\n');
}

function differenceKey({ record, key, said }: Difference): string {
  return JSON.stringify([record, key, said]);
}

function differenceText({ table, root }: ImportRun, group: readonly Difference[], terminal: Terminal): string {
  const [first] = group;
  if (!first) return '';
  const { record, path, key, said, here } = first;
  const head = wrapText(`${visible(table)}, ${placeOf(group)}: ${record} is here already and stays`, terminal.columns);
  const holds = here === undefined ? `no \`${key}\`` : `${here} as \`${key}\``;
  const message = `It has ${holds} (${shownFile(root, path)}); the table says ${said}.`;
  return [...head.map((line) => styled(terminal, 'bold', line)), ...sentences(message, undefined, terminal)].join('\n');
}

/** Rows in words, a single one with its line where that is another number. */
function placeOf(group: readonly { readonly row: number; readonly line: number }[]): string {
  const [first] = group;
  const isAlone = group.every(({ row }) => row === first?.row);
  const line = first && isAlone && first.line !== first.row ? ` (line ${first.line})` : '';
  return `${rowsInWords(
    group.map(({ row }) => row),
    mostRows,
  )}${line}`;
}

function sentences(message: string, help: string | undefined, { columns }: Terminal): readonly string[] {
  return [
    ...wrapText(visible(withShortQuotes(message)), columns, '  '),
    ...(help === undefined ? [] : wrapText(visible(withShortQuotes(help)), columns, '    ')),
  ];
}

/** The first file of each kind as it would be written. */
function samples({ plan, root }: ImportRun, terminal: Terminal): readonly string[] {
  return kinds.flatMap((kind) => {
    const of = plan.records.filter((record) => record.kind === kind);
    const [first] = of;
    return first ? [sample(first, of.length, { root, terminal })] : [];
  });
}

function sample(
  { path, text, rows }: ImportedRecord,
  count: number,
  { root, terminal }: { readonly root: string; readonly terminal: Terminal },
): string {
  const more = count === 1 ? '' : `, one of ${inThousands(count)}`;
  const head = wrapText(
    `${visible(shownFile(root, path))} would be written (${rowsInWords(rows)}${more}):`,
    terminal.columns,
  );
  const lines = text
    .trimEnd()
    .split('\n')
    .map((line) => `  ${visible(line)}`);
  return [...head.map((line) => styled(terminal, 'bold', line)), ...lines].join('\n');
}

function summary({ plan, base, isDryRun, table }: ImportRun, terminal: Terminal): string {
  const { rows, records, here, differences } = plan;
  const fate = [
    `${counted(rows.in, 'row')} ${isDryRun ? 'would go in' : rows.in === 1 ? 'is in' : 'are in'}`,
    `${inThousands(rows.refused)} refused`,
  ];
  if (rows.empty > 0) fate.push(`${inThousands(rows.empty)} empty`);
  const byKind = kinds.flatMap((kind) => {
    const count = records.filter((record) => record.kind === kind).length;
    return count === 0 ? [] : counted(count, kind);
  });
  const made = isDryRun ? 'would be written' : 'written';
  const written = byKind.length === 0 ? `Nothing ${made}` : `${byKind.join(', ')} ${made}`;
  const others = [here > 0 ? `${counted(here, 'record')} already here` : '', differing(differences)].filter(
    (part) => part !== '',
  );
  const head = `${visible(base)}: ${fate.join(', ')} (${visible(table)})`;
  return [
    ...wrapText(head, terminal.columns).map((line) => styled(terminal, 'bold', line)),
    ...wrapText(`${[written, ...others].join('; ')}.`, terminal.columns),
  ].join('\n');
}

function differing(differences: readonly Difference[]): string {
  const count = new Set(differences.map(({ record }) => record)).size;
  return count === 0 ? '' : `${inThousands(count)} of them not as the table says`;
}

function counted(count: number, noun: string): string {
  return `${inThousands(count)} ${count === 1 ? noun : noun === 'family' ? 'families' : `${noun}s`}`;
}
