import type { OutcomeRecord } from '../model/record.ts';
import { byCodeUnits } from '../text/by-code-units.ts';

/** Order of outcomes by date, of one day by id; those without a date come first. */
export function byDate(a: OutcomeRecord, b: OutcomeRecord): number {
  return byCodeUnits(a.data.date ?? '', b.data.date ?? '') || byCodeUnits(a.id, b.id);
}
