import { type Change, type Review, reviewChange } from '../../server/src/core/review/review-change.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { drained } from './drained.ts';
import { snapshotOf, type Texts } from './snapshot-of.ts';

/** What a change of these files comes to. */
export function reviewOf(before: Texts, after: Texts): Review {
  return reviewOfChange({ before: snapshotOf(before), after: snapshotOf(after) });
}

/** The same of snapshots. */
export function reviewOfChange(change: Change): Review {
  return drained(reviewChange(change, parseDate('2026-11-25') ?? 0));
}
