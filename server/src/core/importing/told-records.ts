import type { Value, ValueMap } from '../edits/intent.ts';
import { nameOf } from '../model/record.ts';
import { addTo } from '../terms/grouped.ts';
import type { Kind } from '../terms/kinds.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { cutText } from '../text/cut-text.ts';
import type { RecordPlan } from './import-map.ts';
import { type Conflict, mergeSaid } from './merge-values.ts';
import type { Refusal } from './refusal.ts';
import { fieldFor, type RowReading, type RowRecord } from './row-reader.ts';
import type { Table } from './table.ts';

/** A row that tells of a record, and what it says. */
export interface Teller {
  readonly reading: RowReading;
  readonly record: RowRecord;
}

/** A record with all rows that tell of it. */
export interface ToldRecord {
  readonly kind: Kind;
  readonly id: string;
  /** The first entry of the map that made it of any row. */
  readonly plan: RecordPlan;
  readonly tellers: readonly Teller[];
  /** What all rows say together. */
  readonly value: ValueMap;
  readonly conflicts: readonly Conflict<Teller>[];
}

/** What rows tell of, each record once, in the order of the map's entries and then of ids. */
export function toldRecords(readings: readonly RowReading[], plans: readonly RecordPlan[]): readonly ToldRecord[] {
  const tellers = new Map<string, Teller[]>();
  for (const reading of readings) {
    for (const record of reading.records) addTo(tellers, nameOf(record), { reading, record });
  }
  const told = Array.from(tellers.values(), (all) => toldBy(all, plans));
  const order = new Map(plans.map((plan, position) => [plan, position]));
  const place = ({ plan }: ToldRecord): number => order.get(plan) ?? 0;
  return told.sort((a, b) => place(a) - place(b) || byCodeUnits(a.id, b.id));
}

function toldBy(tellers: readonly Teller[], plans: readonly RecordPlan[]): ToldRecord {
  const own = new Set(tellers.map(({ record }) => record.plan));
  const plan = plans.find((one) => own.has(one));
  const [first] = tellers;
  if (!plan || !first) throw new Error('A record is told of by no row');
  const { value, conflicts } = mergeSaid(tellers.map((by) => ({ by, value: by.record.value })));
  return { kind: first.record.kind, id: first.record.id, plan, tellers, value, conflicts };
}

/** Why a row does not go in, with the cell that fills the key at a path. */
export function refusalOf(
  { reading, record }: Teller,
  table: Table,
  why: { readonly path: readonly (string | number)[]; readonly reason: string; readonly help?: string | undefined },
): Refusal {
  const { row, line, cells } = reading.row;
  const source = fieldFor(record.plan, why.path)?.source;
  const column = source?.from === 'column' ? source.column : undefined;
  const cell =
    column === undefined
      ? {}
      : { column: table.headings[column] ?? '', value: reading.shown(cells[column]?.trim() ?? '') };
  const { reason, help } = why;
  return { row, line, ...cell, record: nameOf(record), reason, ...(help === undefined ? {} : { help }) };
}

/** Rows named beside one that contradicts them. */
const mostNamed = 3;

/** Rows that contradict each other. None of them is taken, for nobody can tell which is right. */
export function conflictRefusals(told: readonly ToldRecord[], table: Table): readonly Refusal[] {
  return told.flatMap(({ kind, id, conflicts }) =>
    conflicts.flatMap(({ path, sides }) =>
      sides.flatMap((side) => {
        const others = sides
          .filter((other) => other !== side)
          .map(({ value, by }) => `${shownValue(value)} in ${rowsInWords(by.map(({ reading }) => reading.row.row))}`);
        const reason = `\`${path.join('.')}\` of ${kind} \`${id}\` is ${shownValue(side.value)} here, but ${others.join(' and ')}.`;
        const help = 'Make the rows agree, or give what they tell of ids of their own.';
        return side.by.map((teller) => refusalOf(teller, table, { path, reason, help }));
      }),
    ),
  );
}

/** Rows in words: `row 3`, `rows 3, 5 and 9`, `rows 3, 5, 9 and 14 more`. */
export function rowsInWords(rows: readonly number[], most = mostNamed): string {
  const sorted = [...new Set(rows)].sort((a, b) => a - b);
  if (sorted.length === 1) return `row ${sorted[0]}`;
  if (sorted.length > most + 1) return `rows ${sorted.slice(0, most).join(', ')} and ${sorted.length - most} more`;
  return `rows ${sorted.slice(0, -1).join(', ')} and ${sorted.at(-1)}`;
}

/** Longest text of a value that is shown beside another, in UTF-16 code units. */
const longestShown = 60;

/** A value in backticks, as it may stand in a sentence. */
export function shownValue(value: Value): string {
  return `\`${cutText(typeof value === 'object' ? JSON.stringify(value) : String(value), longestShown)}\``;
}
