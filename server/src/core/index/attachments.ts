/**
 * Invariant 8: which other files the records of a base name. Adapters look at these and give the snapshot what they saw.
 * Laws (test/property/attachments.property.test.ts):
 * - looking at what is newly wanted, edit by edit, tells what looking at everything tells
 * - a run after files that records name came, went or changed finds what a fresh one finds
 */
import { type Attachment, isMore, type Need, type WantedFile } from '../captures/attachment.ts';
import { type NamedFile, namedFiles, wantedFiles } from '../captures/named-files.ts';
import { pathInBase } from '../model/path-in-base.ts';
import type { AnyRecord } from '../model/record.ts';
import { type Derivation, derive } from './derivation.ts';
import { SharedMap } from './shared-map.ts';
import type { Snapshot } from './snapshot.ts';

/** The files that standing records name, by path in the base: which records do, and what each wants of the file. */
export type Wants = SharedMap<ReadonlyMap<AnyRecord, Need>>;

/** Records between two yields. */
const recordsPerStep = 500;

/** The files that the standing records of a base name. */
export const wants: Derivation<Wants> = {
  name: 'attachments',
  *compute(snapshot) {
    const found = new Map<string, Map<AnyRecord, Need>>();
    let count = 0;
    for (const record of snapshot.allRecords()) {
      addTo(found, record, snapshot);
      if (++count % recordsPerStep === 0) yield;
    }
    return SharedMap.of<ReadonlyMap<AnyRecord, Need>>(found);
  },
  update(value, { records, before, after }) {
    const changed = new Map<string, Map<AnyRecord, Need>>();
    const namersOf = (path: string): Map<AnyRecord, Need> => {
      const namers = changed.get(path) ?? new Map(value.get(path));
      changed.set(path, namers);
      return namers;
    };
    for (const change of records) {
      if (change.before) for (const { path } of wantedBy(change.before, before)) namersOf(path).delete(change.before);
    }
    for (const change of records) {
      if (!change.after) continue;
      for (const { path, need } of wantedBy(change.after, after)) put(namersOf(path), change.after, need);
    }
    if (changed.size === 0) return value;
    return value.with(Array.from(changed, ([path, left]) => [path, left.size > 0 ? left : undefined] as const));
  },
};

/** The files that the standing records of a base name. The same object for as long as no record that names one changes. */
export function wantsOf(snapshot: Snapshot): Wants {
  return derive(wants, snapshot);
}

/** Nothing wanted. */
export const noWants: Wants = SharedMap.of();

/** The standing records that name a file, by its path in the base. */
export function namersOf(path: string, snapshot: Snapshot): Iterable<AnyRecord> {
  return wantsOf(snapshot).get(path)?.keys() ?? [];
}

/** What has to be looked at, now that other files are wanted than before, and what nobody wants any more. */
export function newlyWanted(
  before: Wants,
  now: Wants,
): { readonly wanted: readonly WantedFile[]; readonly unwanted: readonly string[] } {
  const wanted: WantedFile[] = [];
  const unwanted: string[] = [];
  for (const path of before.differingKeys(now)) {
    const [old, need] = [mostOf(before.get(path)), mostOf(now.get(path))];
    if (need === undefined) unwanted.push(path);
    else if (old === undefined || isMore(need, old)) wanted.push({ path, need });
  }
  return { wanted, unwanted };
}

/** The wanted ones among these paths. */
export function wantedAmong(paths: Iterable<string>, now: Wants): readonly WantedFile[] {
  return Array.from(paths).flatMap((path) => {
    const need = mostOf(now.get(path));
    return need === undefined ? [] : [{ path, need }];
  });
}

/** A file that a record names, by its path in the base, and what is there. */
export interface NamedAttachment extends NamedFile {
  /** Undefined where the path leads out of the base, or is none. */
  readonly inBase: string | undefined;
  /** Undefined where nobody has looked: then nothing may be said of it. */
  readonly found: Attachment | undefined;
}

/** The files that a record of this snapshot names, in the order of the schema. */
export function namedAttachments(record: AnyRecord, snapshot: Snapshot): readonly NamedAttachment[] {
  const named = namedFiles(record);
  if (named.length === 0) return [];
  const { file } = snapshot.locate(record);
  return named.map((one) => {
    const inBase = pathInBase(file.path, one.written);
    return { ...one, inBase, found: inBase === undefined ? undefined : snapshot.attachment(inBase) };
  });
}

function addTo(found: Map<string, Map<AnyRecord, Need>>, record: AnyRecord, snapshot: Snapshot): void {
  for (const { path, need } of wantedBy(record, snapshot)) {
    const namers = found.get(path) ?? new Map<AnyRecord, Need>();
    put(namers, record, need);
    found.set(path, namers);
  }
}

function wantedBy(record: AnyRecord, snapshot: Snapshot): readonly WantedFile[] {
  // Most records name no file, and to look where each stands takes longer than to see that.
  return namedFiles(record).length === 0 ? [] : wantedFiles(record, snapshot.locate(record).file.path);
}

/** One record may name a file twice. */
function put(namers: Map<AnyRecord, Need>, record: AnyRecord, need: Need): void {
  const before = namers.get(record);
  if (before === undefined || isMore(need, before)) namers.set(record, need);
}

function mostOf(namers: ReadonlyMap<AnyRecord, Need> | undefined): Need | undefined {
  let most: Need | undefined;
  for (const need of namers?.values() ?? []) if (most === undefined || isMore(need, most)) most = need;
  return most;
}
