import { type KeyRow, keyNodes } from '../../../../schemas/gen/key-table.ts';
import type { Path } from '../syntax/tape.ts';

/** A date of a record: a day, or the day, week or month something was made in. */
export interface RecordedDate {
  readonly row: KeyRow;
  readonly text: string;
  readonly path: Path;
}

/** The dates in a record's data, in the order of the data. The schemas say which keys hold one; bounds of ranges are none. */
export function* datesIn(node: string, data: unknown, path: Path = []): Generator<RecordedDate> {
  if (typeof data !== 'object' || data === null) return;
  const rows = keyNodes[node] ?? [];
  for (const [key, value] of Object.entries(data)) {
    const row = rows.find((candidate) => candidate.name === key);
    if (row) yield* datesAt(row, value, [...path, key]);
  }
}

function* datesAt(row: KeyRow, value: unknown, path: Path): Generator<RecordedDate> {
  if (Array.isArray(value)) {
    for (const [position, item] of value.entries()) yield* datesAt(row, item, [...path, position]);
    return;
  }
  const isDate = row.format === 'date' || row.format === 'day-span';
  if (isDate && typeof value === 'string') yield { row, text: value, path };
  else if (row.node !== undefined) yield* datesIn(row.node, value, path);
}
