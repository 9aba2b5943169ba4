import { changesBetween } from '../index/changes.ts';
import { isEqual } from '../index/is-equal.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { findSorted } from '../index/sorted.ts';
import { familyCounts, familyOdds } from '../odds/family-odds.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { allEvidence, changedEvidence, outcomeIdOf } from '../verdicts/evidence.ts';
import { familyOf } from '../verdicts/evidence-by-family.ts';
import type { OddsChange } from './review.ts';

/** The families whose swaps count otherwise than before, by id. Only those are looked at of which some evidence differs. */
export function oddsChanges(before: Snapshot, after: Snapshot): readonly OddsChange[] {
  return [...touchedFamilies(before, after)]
    .filter((family) => !isEqual(familyCounts(family, before), familyCounts(family, after)))
    .sort(byCodeUnits)
    .map((family) => ({ family, before: familyOdds(family, before), after: familyOdds(family, after) }));
}

function touchedFamilies(before: Snapshot, after: Snapshot): ReadonlySet<string> {
  const sides = [before, after];
  if (before.config.worksAt !== after.config.worksAt)
    return new Set(sides.flatMap((snapshot) => allEvidence(snapshot).flatMap((one) => familyOf(one) ?? [])));
  const ids = [...changedEvidence(changesBetween(before, after))];
  const evidence = ids.flatMap((id) => sides.flatMap((side) => findSorted(allEvidence(side), id, outcomeIdOf) ?? []));
  return new Set(evidence.flatMap((one) => familyOf(one) ?? []));
}
