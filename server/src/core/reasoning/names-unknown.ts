import { findRevision } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { referencesIn } from '../schema/references.ts';
import { splitRevision } from '../terms/revision-name.ts';
import type { Rule } from './rule.ts';

/**
 * Whether scope or condition of a rule name a record that is not there. That was reported, and may be all there is to what the
 * rule seems to say or not to say.
 */
export function namesUnknown({ record }: Rule, snapshot: Snapshot): boolean {
  for (const { refersTo, id, path } of referencesIn('rule', record.data)) {
    if (path[0] === 'exceptions') continue;
    const { board, rev } = splitRevision(id);
    const isThere =
      refersTo === 'revision' ? findRevision(snapshot.find('board', board), rev) : snapshot.find(refersTo, id);
    if (!isThere) return true;
  }
  return false;
}
