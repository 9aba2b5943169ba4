/**
 * Takes out of cells what must not be in them.
 * Laws (test/property/cover-cells.property.test.ts):
 * - in a base that masks serial numbers no free text of any table holds one in full
 * - where no serial number is recorded in full, or the base keeps them so, every row stays as it is
 */
import { type SerialCover, serialCover } from '../captures/mask-serials.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { recordedSerialsOf } from '../verdicts/recorded-serials.ts';
import type { Cell, Row, Table } from './table.ts';

/** What covers the serial numbers that a base should have masked and holds in full; undefined where there is nothing to cover. */
export function coverOf(snapshot: Snapshot): SerialCover | undefined {
  const { serials: policy } = snapshot.config;
  if (policy === 'full') return undefined;
  return serialCover([...recordedIn(snapshot)], policy);
}

function* recordedIn(snapshot: Snapshot): Generator<string> {
  for (const record of snapshot.allRecords()) for (const { serial } of recordedSerialsOf(record)) yield serial;
  for (const attachment of snapshot.attachments.values()) {
    if (attachment.state !== 'present') continue;
    const { values, otherSerials = [] } = attachment.capture ?? {};
    for (const { serial } of [values ?? {}, ...otherSerials]) if (serial !== undefined) yield serial;
  }
}

/** Rows of a table with serial numbers covered in free text, and with text that every format can hold. */
export function* coveredRows(table: Table, rows: Iterable<Row>, cover: SerialCover | undefined): Generator<Row> {
  const cleaners = table.columns.map(({ isFree }) => (isFree && cover ? cover.clean : asIs));
  for (const row of rows) yield row.map((cell, at) => changed(cell, cleaners[at] ?? asIs) as Cell);
}

/** The value with all its texts changed, names in maps among them: a shop's own keys may be made of anything. */
function changed(value: unknown, change: (text: string) => string): unknown {
  if (typeof value === 'string') return wellFormed(change(value));
  if (Array.isArray(value)) return value.map((item) => changed(item, change));
  if (typeof value !== 'object' || value === null) return value;
  const parts = new Map<string, unknown>();
  for (const [name, part] of Object.entries(value)) {
    let free = wellFormed(change(name));
    // Two numbers may look alike once they are covered.
    while (parts.has(free)) free += '*';
    parts.set(free, changed(part, change));
  }
  return Object.fromEntries(parts);
}

function asIs(text: string): string {
  return text;
}

/** Half a character, which only an escape in YAML can write, is in no encoding. */
function wellFormed(text: string): string {
  return /[\ud800-\udfff]/.test(text) ? text.replace(/\p{Surrogate}/gu, '\ufffd') : text;
}
