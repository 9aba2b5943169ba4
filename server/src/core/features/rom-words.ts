import type { Truth } from '../conditions/truth.ts';
import type { FamilyRecord } from '../model/record.ts';

/** Says whether the ROM travelled; empty for a family that keeps its adaptives on the platters, where that is no question. */
export function romWords(family: FamilyRecord | undefined, travels: Truth): string {
  if (family?.data.adaptives?.stored_in === 'platters') return '';
  if (travels === undefined) return 'ROM not known';
  return travels ? 'ROM travelled' : 'ROM did not travel';
}
