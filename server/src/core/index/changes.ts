/**
 * What differs between two snapshots, as far as anything computed from records can tell: an edit of a note or a comment is no change.
 * Laws (test/property/changes.property.test.ts):
 * - a snapshot has no changes from itself
 * - a record is among the changes exactly where the two snapshots find different ones
 */
import type { AnyRecord } from '../model/record.ts';
import type { Kind } from '../terms/kinds.ts';
import { isEqual } from './is-equal.ts';
import type { Layers } from './memo.ts';
import type { BaseFile, Snapshot } from './snapshot.ts';

/** A record that was added, removed or replaced. */
export interface Change {
  readonly kind: Kind;
  readonly id: string;
  readonly before: AnyRecord | undefined;
  readonly after: AnyRecord | undefined;
}

/** The way from one snapshot to another. */
export interface Changes {
  readonly before: Snapshot;
  readonly after: Snapshot;
  readonly records: readonly Change[];
  /** Ids that came or went without their record being readable. */
  readonly bareIds: ReadonlySet<string>;
  /** Other files that records name and of which something else is known than before, by path in the base. */
  readonly attachments: ReadonlySet<string>;
  /** Whether the settings differ, or whether ids may hide in files, so that nothing computed before can be relied on. */
  readonly isSweeping: boolean;
}

/** The last changes asked for in a family of snapshots, and no more: a chain of them would keep every snapshot alive. */
const last = new WeakMap<Layers, Changes>();

/** What differs between two snapshots. Costs next to nothing for the files that both share. */
export function changesBetween(before: Snapshot, after: Snapshot): Changes {
  const known = last.get(after.layers);
  if (known?.before === before && known.after === after) return known;
  const changes = findChanges(before, after);
  last.set(after.layers, changes);
  return changes;
}

function findChanges(before: Snapshot, after: Snapshot): Changes {
  const touched = touchedFiles(before, after);
  const names = new Map<string, Pick<Change, 'kind' | 'id'>>();
  const bareIds = new Set<string>();
  for (const { old, now } of touched) {
    for (const file of [old, now]) {
      for (const { record } of file?.facts.records ?? []) names.set(`${record.kind}/${record.id}`, record);
    }
    if (isEqual(old?.facts.bareIds ?? [], now?.facts.bareIds ?? [])) continue;
    for (const file of [old, now]) for (const { id } of file?.facts.bareIds ?? []) bareIds.add(id);
  }
  const records: Change[] = [];
  for (const { kind, id } of names.values()) {
    const change: Change = { kind, id, before: before.findAny(kind, id), after: after.findAny(kind, id) };
    if (change.before !== change.after) records.push(change);
  }
  const isSweeping =
    !isEqual(before.configFile.reading, after.configFile.reading) || before.mayMissIds !== after.mayMissIds;
  const attachments = new Set(before.attachments.differingKeys(after.attachments));
  return { before, after, records, bareIds, attachments, isSweeping };
}

interface TouchedFile {
  readonly old: BaseFile | undefined;
  readonly now: BaseFile | undefined;
}

function touchedFiles(before: Snapshot, after: Snapshot): TouchedFile[] {
  return Array.from(before.files.differingKeys(after.files), (path) => {
    return { old: before.files.get(path), now: after.files.get(path) };
  });
}
