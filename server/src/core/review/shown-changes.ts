import type { AnyRecord, OutcomeRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import { valueAt } from '../syntax/value-at.ts';
import { isMaskedSerial, maskedSerial } from '../terms/masked-serial.ts';
import type { ChangedRecord } from './review.ts';

/**
 * The changes of a record as they may be shown to others: in a base that keeps serial numbers masked none stands there in full, whatever
 * the files hold. A review ends up in more hands than the files do.
 */
export function shownChanges(changed: ChangedRecord): ChangedRecord {
  const { record, before } = changed;
  return {
    ...changed,
    changes: changed.changes.map((change) => ({
      ...change,
      before: masked(change.before, change.path, [before, record]),
      after: masked(change.after, change.path, [record, before]),
    })),
  };
}

function masked(value: unknown, path: Path, sides: readonly AnyRecord[]): unknown {
  const [{ kind } = { kind: '' }] = sides;
  if (kind === 'drive') return path[0] === 'serial' ? maskedText(value) : value;
  if (kind !== 'outcome' || path[0] !== 'identity') return value;
  if (Array.isArray(value)) return value.map(maskedRow);
  if (path.length === 2) return maskedRow(value);
  const isSerial = sides.some(
    (side) => valueAt((side as OutcomeRecord).data.identity, [...path.slice(1, 2), 'value']) === 'serial',
  );
  return isSerial && path[2] !== 'value' ? maskedText(value) : value;
}

function maskedRow(row: unknown): unknown {
  if (valueAt(row, ['value']) !== 'serial') return row;
  return Object.fromEntries(
    Object.entries(row as object).map(([key, value]) => [key, key === 'value' ? value : maskedText(value)]),
  );
}

function maskedText(value: unknown): unknown {
  if (typeof value !== 'string' || isMaskedSerial(value)) return value;
  return maskedSerial(value) ?? '****';
}
