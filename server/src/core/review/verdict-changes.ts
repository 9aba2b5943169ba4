import { changesBetween } from '../index/changes.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { findSorted } from '../index/sorted.ts';
import { stages } from '../terms/stages.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { allEvidence, changedEvidence, type Evidence, outcomeIdOf } from '../verdicts/evidence.ts';
import type { VerdictChange } from './review.ts';

/** The outcomes that say something else at some stage, or that count on one side only, by id. */
export function verdictChanges(before: Snapshot, after: Snapshot): readonly VerdictChange[] {
  const ids = [...changedEvidence(changesBetween(before, after))].sort(byCodeUnits);
  return ids.flatMap((id): VerdictChange[] => {
    const then = findSorted(allEvidence(before), id, outcomeIdOf);
    const now = findSorted(allEvidence(after), id, outcomeIdOf);
    const outcome = (now ?? then)?.outcome;
    if (!outcome || (then && now && saySame(then, now))) return [];
    return [{ outcome, before: then, after: now }];
  });
}

function saySame(a: Evidence, b: Evidence): boolean {
  return stages.every(({ name }) => a.verdicts[name].result === b.verdicts[name].result);
}
