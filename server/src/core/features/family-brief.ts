import type { Snapshot } from '../index/snapshot.ts';
import type { FamilyRecord } from '../model/record.ts';
import { familyCounts } from '../odds/family-odds.ts';
import { rounded } from '../text/rounded.ts';
import { romWords } from './rom-words.ts';

/** How often swaps of a family worked, in fewer words than stand above its record: without bounds, and without what is not counted. */
export function familyBrief(family: FamilyRecord, snapshot: Snapshot): string {
  const { rows, uncontrolled } = familyCounts(family.id, snapshot);
  if (rows.length === 0)
    return uncontrolled.worked + uncontrolled.open === 0 ? 'no outcome yet' : 'no controlled pair yet';
  const parts = rows.map(({ romTravels, count: { votes, pairs } }, position) => {
    const said = position > 0 ? '' : pairs === 1 ? ' pair worked' : ' pairs worked';
    const rom = romWords(family, romTravels);
    return `${rounded(votes, 2)} of ${pairs}${said}${rom === '' ? '' : ` (${rom})`}`;
  });
  return parts.join(', ');
}
