import { type ComparableKey, comparableKeys } from '../../../../schemas/gen/key-table.ts';
import type { HoverContext } from './hover-context.ts';

/** The comparable key that a key records, or that a condition names; undefined for every other key or value. */
export function comparableAt({ node, row, path, side, entry }: HoverContext): ComparableKey | undefined {
  if (row.name === 'same' || row.name === 'different') return side === 'value' ? findKey(entry.text) : undefined;
  if (row.comparableAs !== undefined) return findKey(row.comparableAs);
  const parent = path.filter((step) => typeof step === 'string').at(-2);
  const isPartOfRevision = node === 'board' && parent === 'revisions';
  const isInCondition = node === 'rule' && (parent === 'patient' || parent === 'donor');
  return isPartOfRevision || isInCondition ? findKey(row.name) : undefined;
}

function findKey(name: string): ComparableKey | undefined {
  return comparableKeys.find((key) => key === name);
}
