import type { Day } from '../terms/calendar.ts';
import type { Change, Review } from './review.ts';

/** What is given and what comes of it. */
export type { Change, Review };

/** What a change comes to, worked out in slices. */
export function* reviewChange(change: Change, _today: Day): Generator<undefined, Review> {
  yield;
  return {
    change,
    records: { added: [], changed: [], removed: [] },
    verdicts: [],
    findings: { new: [], gone: [], still: 0 },
    rules: [],
    odds: [],
    standings: { donors: [], patientsLeftOut: 0, rules: [] },
    config: [],
    questions: [],
    onMerge: undefined,
  };
}
