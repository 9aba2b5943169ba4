import type { Finding, Place } from '../checks/finding.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { nameOf, readName } from '../model/record.ts';
import { referencesIn } from '../schema/references.ts';
import { valueAt } from '../syntax/value-at.ts';
import type { Kind } from '../terms/kinds.ts';
import type { Teller, ToldRecord } from './told-records.ts';

/** A row with the path of the key that a finding is about, in the record the row tells of. */
export interface Blamed {
  readonly teller: Teller;
  readonly path: readonly (string | number)[];
}

/**
 * The rows by which a finding came: those that tell of the record it stands at, else of records it names besides, else of those that its
 * record leads to. Where none of these is new, all rows, since one of them must be.
 */
export function blamedRows(
  finding: Finding,
  snapshot: Snapshot,
  told: ReadonlyMap<string, ToldRecord>,
): readonly Blamed[] {
  const own = blamedAt(finding.place, told);
  if (own.length > 0) return own;
  const related = finding.related.flatMap(({ place }) => blamedAt(place, told));
  if (related.length > 0) return related;
  const byName = new Map(Array.from(told.values(), (one) => [nameOf(one), one]));
  const near = namesNear(finding, snapshot).flatMap((name) => byName.get(name)?.tellers ?? []);
  const all = near.length > 0 ? near : Array.from(told.values()).flatMap(({ tellers }) => tellers);
  return all.map((teller) => ({ teller, path: [] }));
}

/** The rows that tell of the value at a place, else of anything in its record. */
function blamedAt({ file, target }: Place, told: ReadonlyMap<string, ToldRecord>): readonly Blamed[] {
  const { tellers = [] } = told.get(file) ?? {};
  const path = 'path' in target ? target.path : [];
  const saying = tellers.filter(({ record }) => path.length > 0 && valueAt(record.value, path) !== undefined);
  return (saying.length > 0 ? saying : tellers).map((teller) => ({ teller, path }));
}

/** Names of the records that a finding's own record leads to. */
function namesNear({ record: name = '' }: Finding, snapshot: Snapshot): readonly string[] {
  const named = readName(name);
  const record = named && snapshot.findAny(named.kind, named.id);
  if (!record) return [];
  return referencesIn(record.kind, record.data).flatMap(({ refersTo, id: target }) =>
    refersTo === 'revision' ? [] : [nameOf({ kind: refersTo satisfies Kind, id: target })],
  );
}
