/**
 * Lines of figures above the records of a file: how outcomes stand to a rule, and how often swaps of a family worked.
 * Laws (test/property/code-lenses.property.test.ts):
 * - a lens stands at the first key of its record, and no two stand at one
 * - no text, whole, cut off or damaged, makes it throw
 * - nothing is said before the base is indexed, and nothing that is not wanted
 */
import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, nameOf } from '../model/record.ts';
import type { FamilyOdds } from '../odds/family-odds.ts';
import { childrenOf, type Span, type Tape } from '../syntax/tape.ts';
import { familyLens } from './family-lens.ts';
import type { OpenFile } from './open-file.ts';
import { type RuleFigures, ruleLens } from './rule-lens.ts';
import { standingRecords } from './standing-records.ts';

/** Which lenses somebody wants to see. */
export interface LensWants {
  readonly rules: boolean;
  readonly families: boolean;
}

/** A line above a record. It stands at the record's first key, in half-open UTF-16 offsets. */
export interface CodeLens extends Span {
  /** Plain text without a full stop. */
  readonly text: string;
  /** `kind/id` of the record. */
  readonly record: string;
  /** What the text was made from; undefined for a rule that cannot be applied. */
  readonly figures: RuleFigures | FamilyOdds | undefined;
}

/** The lenses of a file, in the order of the text; none before the base is indexed, as counts would be wrong. */
export function codeLenses(file: OpenFile, wants: LensWants): readonly CodeLens[] {
  const { isIndexed, snapshot, tape } = file;
  if (!isIndexed) return [];
  return standingRecords(file).flatMap(({ record, root }) => {
    const lens = lensOf(record, wants, snapshot);
    const at = lens && firstKey(tape, root);
    return lens && at ? [{ ...at, ...lens, record: nameOf(record) }] : [];
  });
}

function lensOf(
  record: AnyRecord,
  { rules, families }: LensWants,
  snapshot: Snapshot,
): Pick<CodeLens, 'text' | 'figures'> | undefined {
  if (record.kind === 'rule') return rules ? ruleLens(record, snapshot) : undefined;
  return record.kind === 'family' && families ? familyLens(record, snapshot) : undefined;
}

function firstKey(tape: Tape, root: number): Span | undefined {
  const [first = -1] = childrenOf(tape, root);
  const key = tape.entries[first];
  return key && { start: key.keyStart, end: key.keyEnd };
}
