import type { Snapshot } from '../index/snapshot.ts';
import type { FamilyRecord } from '../model/record.ts';
import { type FamilyOdds, familyOdds } from '../odds/family-odds.ts';
import { pairWords } from './pair-words.ts';
import { romWords } from './rom-words.ts';
import { uncontrolledWords } from './uncontrolled-words.ts';

/** What stands above a family: how often its swaps worked, by whether the ROM travelled, and the outcomes that are not counted there. */
export function familyLens(
  family: FamilyRecord,
  snapshot: Snapshot,
): { readonly text: string; readonly figures: FamilyOdds } {
  const figures = familyOdds(family.id, snapshot);
  const { rows, uncontrolled } = figures;
  const worked = rows.map(({ romTravels, count, exact }) => {
    const rom = romWords(family, romTravels);
    return `${rom === '' ? '' : `${rom}: `}${pairWords(count, ['worked', 'worked'], exact)}`;
  });
  const uncounted = uncontrolledWords(uncontrolled);
  const parts = [...worked, ...(uncounted === undefined ? [] : [`not counted: ${uncounted}`])];
  if (parts.length === 0) return { text: 'no outcome yet', figures };
  return { text: [...(rows.length === 0 ? ['no pair with every control yet'] : []), ...parts].join(' · '), figures };
}
