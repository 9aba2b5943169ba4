/**
 * Invariant 7: a snapshot of a base is an immutable value; `with` shares what did not change; any number live side by side.
 * Laws (test/property/snapshot.property.test.ts):
 * - a snapshot with edits equals a fresh snapshot of the edited files
 * - the order in which files are given changes nothing
 * - a record whose edit touches only notes or comments stays the same object
 */
import type { BaseConfig, ConfigReading } from '../model/config.ts';
import type { FileFacts } from '../model/file-facts.ts';
import type { AnyRecord, RecordOf } from '../model/record.ts';
import { type Kind, kinds } from '../terms/kinds.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import type { Changes } from './changes.ts';
import type { Derivation } from './derivation.ts';
import { isEqual } from './is-equal.ts';
import { Layers } from './memo.ts';
import { replaceSorted } from './sorted.ts';

/** One file of a base. `path` is relative to the base, with `/`; `contentId` changes whenever the bytes do. */
export interface BaseFile {
  readonly path: string;
  readonly contentId: string;
  readonly facts: FileFacts;
}

/** The base's `swaplore.yaml` as read. */
export interface ConfigFile {
  readonly contentId: string;
  readonly reading: ConfigReading;
}

/** Where a record stands: its file and the position of its document in it. */
export interface Standing {
  readonly record: AnyRecord;
  readonly file: BaseFile;
  readonly document: number;
}

type Table = ReadonlyMap<string, readonly Standing[]>;
type Tables = Readonly<Record<Kind, Table>>;

/** A base at one moment. */
export class Snapshot {
  private readonly sortedByKind: Map<Kind, readonly AnyRecord[]>;
  private readonly derived = new Map<Derivation<unknown>, unknown>();
  private bareIds: ReadonlyMap<string, ReadonlySet<Kind | undefined>> | undefined;

  private constructor(
    readonly configFile: ConfigFile,
    /** Files in the order of their paths (code units). */
    readonly files: ReadonlyMap<string, BaseFile>,
    /** Those of them that have faults or ids without a readable record, in no particular order. */
    readonly troubledFiles: ReadonlyMap<string, BaseFile>,
    private readonly tables: Tables,
    /** Results shared with the snapshots this one came from. */
    readonly layers: Layers,
    sorted: ReadonlyMap<Kind, readonly AnyRecord[]> = new Map(),
  ) {
    this.sortedByKind = new Map(sorted);
  }

  /** A snapshot of these files, in whatever order they come. */
  static of(configFile: ConfigFile, files: Iterable<BaseFile>): Snapshot {
    const empty = Object.fromEntries(kinds.map((kind) => [kind, new Map()])) as unknown as Tables;
    const start = new Snapshot(configFile, new Map(), new Map(), empty, new Layers());
    return start.with([...files].map((file) => ({ path: file.path, file })));
  }

  /** The base after these files were replaced, added, or (where `file` is undefined) removed. */
  with(changes: readonly { readonly path: string; readonly file: BaseFile | undefined }[]): Snapshot {
    const files = new Map(this.files);
    const troubled = new Map(this.troubledFiles);
    const writer = new TableWriter(this.tables);
    for (const { path, file } of changes) {
      const old = files.get(path);
      if (old) writer.remove(old);
      const kept = file && writer.add(file);
      if (kept) files.set(path, kept);
      else files.delete(path);
      if (kept && isTroubled(kept.facts)) troubled.set(path, kept);
      else troubled.delete(path);
    }
    return new Snapshot(
      this.configFile,
      sortByPath(files),
      troubled,
      writer.finish(),
      this.layers,
      writer.sort(this.sortedByKind),
    );
  }

  /** The same files under other settings. */
  withConfig(configFile: ConfigFile): Snapshot {
    return new Snapshot(configFile, this.files, this.troubledFiles, this.tables, this.layers, this.sortedByKind);
  }

  /** The base's settings. */
  get config(): BaseConfig {
    return this.configFile.reading.config;
  }

  /** Records in all files, those whose id is taken included. */
  get recordCount(): number {
    let count = 0;
    for (const { facts } of this.files.values()) count += facts.records.length;
    return count;
  }

  /** The records of a kind that stand, by id. */
  records<K extends Kind>(kind: K): readonly RecordOf<K>[] {
    let sorted = this.sortedByKind.get(kind);
    if (!sorted) {
      const ids = [...this.tables[kind].keys()].sort(byCodeUnits);
      sorted = ids.flatMap((id) => this.tables[kind].get(id)?.[0]?.record ?? []);
      this.sortedByKind.set(kind, sorted);
    }
    return sorted as unknown as readonly RecordOf<K>[];
  }

  /** The record of that kind and id, or undefined. Of several with one id the first by path and position. */
  find<K extends Kind>(kind: K, id: string | undefined): RecordOf<K> | undefined {
    return id === undefined ? undefined : (this.tables[kind].get(id)?.[0]?.record as RecordOf<K> | undefined);
  }

  /** The same for a kind that is not known beforehand. */
  findAny(kind: Kind, id: string): AnyRecord | undefined {
    return this.tables[kind].get(id)?.[0]?.record;
  }

  /** The records of every kind that stand, in no particular order. */
  *allRecords(): Generator<AnyRecord> {
    for (const kind of kinds) for (const [first] of this.tables[kind].values()) if (first) yield first.record;
  }

  /** A value that follows from the whole snapshot, kept and brought up to date from one snapshot to the next. */
  derive<Value>(derivation: Derivation<Value>): Value {
    if (this.derived.has(derivation as Derivation<unknown>))
      return this.derived.get(derivation as Derivation<unknown>) as Value;
    const value = this.layers.derived.get(derivation, this);
    this.derived.set(derivation as Derivation<unknown>, value);
    return value;
  }

  /** What differs from another snapshot. */
  changesFrom(before: Snapshot): Changes {
    return this.layers.derived.changesBetween(before, this);
  }

  /** Where a record of this snapshot stands. Throws for a record of another snapshot, which is a mistake in the caller. */
  locate(record: AnyRecord): Standing {
    const found = this.tables[record.kind].get(record.id)?.find((standing) => standing.record === record);
    if (!found) throw new Error(`${record.kind}/${record.id} is not a record of this snapshot`);
    return found;
  }

  /** Records whose id an earlier record of their kind already has, with that earlier one. */
  *duplicates(): Generator<{ readonly again: Standing; readonly first: Standing }> {
    for (const kind of kinds) {
      for (const standings of this.tables[kind].values()) {
        const [first, ...later] = standings.length > 1 ? standings : [];
        if (first) for (const again of later) yield { again, first };
      }
    }
  }

  /** Whether an id of this kind stands in a file although its record cannot be read. */
  hasBareId(kind: Kind, id: string): boolean {
    this.bareIds ??= collectBareIds(this.troubledFiles.values());
    const found = this.bareIds.get(id);
    return found !== undefined && (found.has(kind) || found.has(undefined));
  }

  /** Whether a file hides its ids altogether, so that nothing can be said to be missing. */
  get mayMissIds(): boolean {
    for (const file of this.troubledFiles.values()) if (!file.facts.areIdsKnown) return true;
    return false;
  }
}

/** Records of a kind that are put one by one into their sorted list. */
const mostReplaced = 100;

/** Copies a table only when something in it changes. */
class TableWriter {
  private readonly copies = new Map<Kind, Map<string, readonly Standing[]>>();
  private readonly touched = new Map<Kind, Set<string>>();

  constructor(private readonly tables: Tables) {}

  remove(file: BaseFile): void {
    for (const { record } of file.facts.records) {
      const table = this.touch(record);
      const rest = (table.get(record.id) ?? []).filter((standing) => standing.file.path !== file.path);
      if (rest.length > 0) table.set(record.id, rest);
      else table.delete(record.id);
    }
  }

  /** Adds the records of a file; those equal to what the table held before in that file under their id stay the same objects. */
  add(file: BaseFile): BaseFile {
    const reused = new Set<AnyRecord>();
    const records = file.facts.records.map((placed) => {
      const candidates = this.tables[placed.record.kind].get(placed.record.id) ?? [];
      const old = candidates.find((standing) => standing.file.path === file.path && !reused.has(standing.record));
      const record = old?.record;
      if (!record || !isSameRecord(record, placed.record)) return placed;
      reused.add(record);
      return { ...placed, record };
    });
    const kept: BaseFile = { ...file, facts: { ...file.facts, records } };
    for (const { record, document } of records) {
      const table = this.touch(record);
      const standing: Standing = { record, file: kept, document };
      const all = [...(table.get(record.id) ?? []), standing];
      table.set(record.id, all.length > 1 ? all.sort(byStanding) : all);
    }
    return kept;
  }

  /** The records of each kind by id, as far as they were sorted before. */
  sort(before: ReadonlyMap<Kind, readonly AnyRecord[]>): Map<Kind, readonly AnyRecord[]> {
    const sorted = new Map(before);
    for (const [kind, ids] of this.touched) {
      const records = sorted.get(kind);
      // Sorting again is cheaper than replacing many one by one.
      if (!records || ids.size > mostReplaced) sorted.delete(kind);
      else
        sorted.set(
          kind,
          replaceSorted(records, ids, idOf, (id) => this.table(kind).get(id)?.[0]?.record),
        );
    }
    return sorted;
  }

  finish(): Tables {
    return { ...this.tables, ...Object.fromEntries(this.copies) };
  }

  private touch({ kind, id }: AnyRecord): Map<string, readonly Standing[]> {
    const ids = this.touched.get(kind);
    if (ids) ids.add(id);
    else this.touched.set(kind, new Set([id]));
    return this.table(kind);
  }

  private table(kind: Kind): Map<string, readonly Standing[]> {
    let copy = this.copies.get(kind);
    if (!copy) {
      copy = new Map(this.tables[kind]);
      this.copies.set(kind, copy);
    }
    return copy;
  }
}

function idOf({ id }: AnyRecord): string {
  return id;
}

function isTroubled({ faults, bareIds, areIdsKnown }: FileFacts): boolean {
  return faults.length > 0 || bareIds.length > 0 || !areIdsKnown;
}

function isSameRecord(a: AnyRecord, b: AnyRecord): boolean {
  return isEqual(a.data, b.data) && isEqual(a.unusable, b.unusable);
}

/** Order of files by path, then of documents. */
export function byStanding(a: Standing, b: Standing): number {
  return byCodeUnits(a.file.path, b.file.path) || a.document - b.document;
}

function sortByPath(files: ReadonlyMap<string, BaseFile>): ReadonlyMap<string, BaseFile> {
  const paths = [...files.keys()];
  const isSorted = paths.every((path, position) => position === 0 || byCodeUnits(paths[position - 1] ?? '', path) < 0);
  if (isSorted) return files;
  return new Map([...files].sort(([a], [b]) => byCodeUnits(a, b)));
}

function collectBareIds(files: Iterable<BaseFile>): Map<string, Set<Kind | undefined>> {
  const found = new Map<string, Set<Kind | undefined>>();
  for (const file of files) {
    for (const { kind, id } of file.facts.bareIds) {
      const kindsOfId = found.get(id) ?? new Set();
      found.set(id, kindsOfId.add(kind));
    }
  }
  return found;
}
