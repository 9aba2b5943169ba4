import { isMaskedSerial, maskedSerial } from '../terms/masked-serial.ts';
import { recordedSerialsOf } from '../verdicts/recorded-serials.ts';
import type { ChangedRecord } from './review.ts';

/**
 * The changes of a record as they may be shown to others: in a base that keeps serial numbers masked none stands there in full, whatever
 * the files hold and whatever key it moved to. A review ends up in more hands than the files do.
 */
export function shownChanges(changed: ChangedRecord): ChangedRecord {
  const recorded = [changed.before, changed.record].flatMap(recordedSerialsOf).map(({ serial }) => serial);
  const whole = new Set<unknown>(recorded.filter((serial) => !isMaskedSerial(serial)));
  if (whole.size === 0) return changed;
  const masked = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(masked);
    if (typeof value === 'object' && value !== null) {
      return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, masked(inner)]));
    }
    return typeof value === 'string' && whole.has(value) ? (maskedSerial(value) ?? '****') : value;
  };
  return {
    ...changed,
    changes: changed.changes.map((change) => ({
      ...change,
      before: masked(change.before),
      after: masked(change.after),
    })),
  };
}
