import { referrersOf } from '../index/referrers.ts';
import { type AnyRecord, isRetracted } from '../model/record.ts';
import { pluralOf } from '../terms/kinds.ts';
import { evidenceByFamily } from '../verdicts/evidence-by-family.ts';
import { type Phrase, phrase } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';
import { countValues, type ValueCounts } from './value-counts.ts';

/** How often each value is in use: in outcomes and drives within the family, elsewhere within the kind. `families` are those the record is about. */
export function useLines(
  { row, path, side, file }: HoverContext,
  record: AnyRecord,
  [family]: readonly string[],
): readonly Phrase[] {
  if (record.kind === 'rule' || side === 'value' || row.name === 'kind') return [];
  const isChoice = row.values !== undefined || row.type === 'boolean';
  if (!isChoice && row.comparableAs === undefined) return [];
  const keys = path.filter((step) => typeof step === 'string');
  const { snapshot } = file;
  if (record.kind !== 'outcome' && record.kind !== 'drive') {
    const all = snapshot.records(record.kind) as readonly AnyRecord[];
    const counts = countValues(all, record.kind, keys, () => all.filter((one) => !isRetracted(one)));
    return inUse([`In the ${pluralOf(record.kind)} of this base: `], counts);
  }
  if (family === undefined || row.comparableAs === 'family') return [];
  if (record.kind === 'drive') {
    const referrers = referrersOf(family, snapshot);
    const drives = (): AnyRecord[] =>
      [...referrers].filter((one) => one.kind === 'drive' && one.data.family === family && !isRetracted(one));
    return inUse(phrase`In the drives of ${family}: `, countValues(referrers, `drive ${family}`, keys, drives));
  }
  const evidence = evidenceByFamily(snapshot).get(family);
  if (!evidence) return [];
  const outcomes = (): AnyRecord[] => evidence.map(({ outcome }) => outcome);
  return inUse(phrase`In the outcomes of ${family}: `, countValues(evidence, 'outcome', keys, outcomes));
}

/** Values that are listed by name. */
const mostValues = 5;

function inUse(begin: Phrase, { values, without }: ValueCounts): readonly Phrase[] {
  // What the record at hand holds by itself is no news.
  if (values.reduce((sum, { records }) => sum + records, without) < 2 || values.length === 0) return [];
  const shown = values.length > mostValues + 1 ? values.slice(0, mostValues) : values;
  const left = values.length - shown.length;
  const parts = [
    ...shown.map(({ value, records }) => phrase`${value} ${records}`),
    ...(left > 0 ? [phrase`${left} other values`] : []),
    ...(without > 0 ? [phrase`not recorded ${without}`] : []),
  ];
  return [[...begin, ...parts.flatMap((part, position) => (position === 0 ? part : [', ', ...part])), '.']];
}
