import { changesBetween } from '../index/changes.ts';
import { isEqual } from '../index/is-equal.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, isRetracted, nameOf } from '../model/record.ts';
import { kinds } from '../terms/kinds.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import type { ChangedRecord, PlacedChange, RecordChanges, RemovedRecord } from './review.ts';
import { shownChanges } from './shown-changes.ts';
import { valueChanges } from './value-changes.ts';

/** The records that differ between two snapshots, wherever they stand. Serial numbers are covered unless both sides show them. */
export function recordChanges(before: Snapshot, after: Snapshot): RecordChanges {
  const added: PlacedChange[] = [];
  const changed: ChangedRecord[] = [];
  const removed: PlacedChange[] = [];
  for (const change of changesBetween(before, after).records) {
    if (change.before && change.after) changed.push(...changedRecord(change.before, change.after, after));
    else if (change.after) added.push(placed(change.after, after));
    else if (change.before) removed.push(placed(change.before, before));
  }
  const areSerialsShown = [before, after].every(({ config }) => config.serials === 'full');
  return {
    added: added.sort(byKindAndId),
    changed: changed.sort(byKindAndId).map(areSerialsShown ? (one) => one : shownChanges),
    removed: removed.sort(byKindAndId).map((one) => ({ ...one, how: whatBecameOf(one, added, after) })),
  };
}

function placed(record: AnyRecord, snapshot: Snapshot): PlacedChange {
  return { record, file: snapshot.locate(record).file.path };
}

/** One record, or none where it only moved or its keys were put in another order. */
function changedRecord(before: AnyRecord, record: AnyRecord, after: Snapshot): ChangedRecord[] {
  const changes = valueChanges(before, record);
  if (changes.length === 0) return [];
  const was = isRetracted(before);
  const is = isRetracted(record);
  const turn = was === is ? undefined : is ? 'retracted' : 'restored';
  return [{ ...placed(record, after), before, changes, turn }];
}

function whatBecameOf(
  { record, file }: PlacedChange,
  added: readonly PlacedChange[],
  after: Snapshot,
): RemovedRecord['how'] {
  const { kind, id } = record;
  if (after.hasBareId(kind, id) || after.files.get(file)?.facts.areIdsKnown === false) return 'unread';
  const twin = added.find((one) => one.record.kind === kind && isEqual(one.record.data, record.data));
  return twin ? { renamed: nameOf(twin.record) } : 'gone';
}

function byKindAndId({ record: a }: PlacedChange, { record: b }: PlacedChange): number {
  return kinds.indexOf(a.kind) - kinds.indexOf(b.kind) || byCodeUnits(a.id, b.id);
}
