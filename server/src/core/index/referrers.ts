import type { AnyRecord } from '../model/record.ts';
import { referencesIn } from '../schema/references.ts';
import { splitRevision } from '../terms/revision-name.ts';
import type { Change, Changes } from './changes.ts';
import { type Derivation, derive } from './derivation.ts';
import { SharedMap } from './shared-map.ts';
import type { Snapshot } from './snapshot.ts';

/** Records by the ids they name, whatever kind of record they expect under them. */
type Referrers = SharedMap<ReadonlySet<AnyRecord>>;

/** Records between two yields. */
const recordsPerStep = 100;

/** The standing records by the ids they name. */
export const referrers: Derivation<Referrers> = {
  name: 'referrers',
  *compute(snapshot) {
    const found = new Map<string, Set<AnyRecord>>();
    let count = 0;
    for (const record of snapshot.allRecords()) {
      if (++count % recordsPerStep === 0) yield;
      for (const id of idsIn(record)) {
        const known = found.get(id);
        if (known) known.add(record);
        else found.set(id, new Set([record]));
      }
    }
    return SharedMap.of<ReadonlySet<AnyRecord>>(found);
  },
  update(value, { records }) {
    const changes = new Map<string, Set<AnyRecord>>();
    const recordsOf = (id: string): Set<AnyRecord> => {
      const known = changes.get(id) ?? new Set(value.get(id));
      changes.set(id, known);
      return known;
    };
    for (const { before, after } of records) {
      if (before) for (const id of idsIn(before)) recordsOf(id).delete(before);
      if (after) for (const id of idsIn(after)) recordsOf(id).add(after);
    }
    return value.with(Array.from(changes, ([id, left]) => [id, left.size > 0 ? left : undefined] as const));
  },
};

/**
 * The standing records that name an id, in no particular order, whatever kind of record they expect under it. Of a revision,
 * written BOARD/REV, they name the board.
 */
export function referrersOf(id: string, snapshot: Snapshot): ReadonlySet<AnyRecord> {
  return derive(referrers, snapshot).get(id) ?? new Set();
}

/**
 * The standing records whose evidence or findings may differ because of changes: the changed ones, all that lead to them by references, and the
 * drives of outcomes among these, as the use that was made of a drive tells on it.
 */
export function affectedBy({ records, bareIds, after }: Changes): ReadonlySet<AnyRecord> {
  const affected = new Set<AnyRecord>();
  const queue = [...records.map(({ id }) => id), ...bareIds];
  const seen = new Set(queue);
  for (const change of records) if (change.after) affected.add(change.after);
  for (let id = queue.pop(); id !== undefined; id = queue.pop()) {
    for (const record of referrersOf(id, after)) {
      affected.add(record);
      if (!seen.has(record.id)) queue.push(record.id);
      seen.add(record.id);
    }
  }
  for (const record of [...affected, ...records.flatMap((change: Change) => change.before ?? [])]) {
    if (record.kind !== 'outcome') continue;
    for (const id of [record.data.patient, record.data.donor]) {
      const drive = after.find('drive', id);
      if (drive) affected.add(drive);
    }
  }
  return affected;
}

/** The ids a record names; of a revision, written BOARD/REV, that of its board. */
function idsIn(record: AnyRecord): Set<string> {
  const ids = new Set<string>();
  for (const { refersTo, id } of referencesIn(record.kind, record.data)) {
    ids.add(refersTo === 'revision' ? splitRevision(id).board : id);
  }
  return ids;
}
