import type { Snapshot } from '../index/snapshot.ts';
import { findSorted } from '../index/sorted.ts';
import { ruleResults } from '../reasoning/rule-results.ts';
import type { Phrase } from './hover-blocks.ts';

/** The counts of a rule by its id; nothing where it cannot be applied. */
export function standingLine(id: string, snapshot: Snapshot): readonly Phrase[] {
  const result = findSorted(ruleResults(snapshot), id, ({ rule }) => rule.record.id);
  if (!result) return [];
  const { support, against, undecided, excepted } = result;
  const parts = [
    `${support.length} ${support.length === 1 ? 'outcome' : 'outcomes'} in support`,
    `${against.length} against`,
    `${undecided.length} undecided`,
    ...(excepted.length > 0 ? [`${excepted.length} excepted`] : []),
  ];
  return [[`${parts.join(', ')}.`]];
}
