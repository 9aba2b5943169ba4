import type { Snapshot } from '../index/snapshot.ts';
import { parseDaySpan } from '../terms/calendar.ts';
import type { Rule } from './rule.ts';

/**
 * Whether one patient may lie in the scopes of two rules, as far as families, makers and dates of manufacture alone can tell. It
 * is quick, and where it says no, no swap lies in both.
 */
export function canScopesMeet(a: Rule, b: Rule, snapshot: Snapshot): boolean {
  const { families: familiesA = [], makers: makersA = [], made: madeA } = a.record.data.applies_to ?? {};
  const { families: familiesB = [], makers: makersB = [], made: madeB } = b.record.data.applies_to ?? {};
  return (
    canShare(familiesA, familiesB) &&
    canShare(makersA, makersB) &&
    areMadeBy(familiesA, makersB, snapshot) &&
    areMadeBy(familiesB, makersA, snapshot) &&
    canBothBe(madeA, madeB)
  );
}

/** An empty list leaves everything in. */
function canShare(a: readonly string[], b: readonly string[]): boolean {
  return a.length === 0 || b.length === 0 || a.some((id) => b.includes(id));
}

/** Whether any of the families may be of one of these makers; one that is not recorded may be of any. */
function areMadeBy(families: readonly string[], makers: readonly string[], snapshot: Snapshot): boolean {
  if (families.length === 0 || makers.length === 0) return true;
  return families.some((id) => {
    const maker = snapshot.find('family', id)?.data.maker;
    return maker === undefined || makers.includes(maker);
  });
}

type Range = { readonly from?: string | number; readonly to?: string | number } | undefined;

function canBothBe(a: Range, b: Range): boolean {
  return startOf(a) <= endOf(b) && startOf(b) <= endOf(a);
}

function startOf(range: Range): number {
  return (range?.from === undefined ? undefined : parseDaySpan(range.from)?.first) ?? Number.NEGATIVE_INFINITY;
}

function endOf(range: Range): number {
  return (range?.to === undefined ? undefined : parseDaySpan(range.to)?.last) ?? Number.POSITIVE_INFINITY;
}
