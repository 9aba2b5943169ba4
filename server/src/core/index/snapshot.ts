/**
 * Invariant 7: a snapshot of a base is an immutable value; `with` shares what did not change; any number live side by side.
 * Laws (test/property/snapshot.property.test.ts):
 * - a snapshot with edits equals a fresh snapshot of the edited files
 * - the order in which files are given changes nothing
 * - a record whose edit touches only notes or comments stays the same object
 */
import type { Attachment } from '../captures/attachment.ts';
import type { BaseConfig, ConfigReading } from '../model/config.ts';
import type { FileFacts } from '../model/file-facts.ts';
import type { AnyRecord, RecordOf } from '../model/record.ts';
import { drained } from '../terms/drained.ts';
import { type Kind, kinds } from '../terms/kinds.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { isEqual } from './is-equal.ts';
import { Layers } from './memo.ts';
import { SharedMap } from './shared-map.ts';
import { sortInSteps } from './sort-in-steps.ts';
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

type Table = SharedMap<readonly Standing[]>;
type Tables = Readonly<Record<Kind, Table>>;

/** What becomes of a file. */
interface FileChange {
  readonly path: string;
  /** Undefined where it is removed. */
  readonly file: BaseFile | undefined;
}

/** Files put into tables between two yields. */
const filesPerStep = 100;

/** A base at one moment. */
export class Snapshot {
  private readonly sortedByKind: Map<Kind, readonly AnyRecord[]>;
  private bareIds: ReadonlyMap<string, ReadonlySet<Kind | undefined>> | undefined;

  private constructor(
    readonly configFile: ConfigFile,
    /** Files by path. */
    readonly files: SharedMap<BaseFile>,
    /** Those of them that have faults or ids without a readable record, in no particular order. */
    readonly troubledFiles: ReadonlyMap<string, BaseFile>,
    private readonly tables: Tables,
    /** Ids that several records of a kind have, by `kind/id`. */
    private readonly crowded: ReadonlyMap<string, Crowd>,
    /** Results shared with the snapshots this one came from. */
    readonly layers: Layers,
    /** What was seen of the other files that records name, by path in the base. */
    readonly attachments: SharedMap<Attachment>,
    sorted: ReadonlyMap<Kind, readonly AnyRecord[]> = new Map(),
  ) {
    this.sortedByKind = new Map(sorted);
  }

  /** A snapshot of these files, in whatever order they come. */
  static of(configFile: ConfigFile, files: Iterable<BaseFile>): Snapshot {
    return drained(Snapshot.inSteps(configFile, files));
  }

  /** The same in steps (invariant 10): thousands of files take a while. */
  static inSteps(configFile: ConfigFile, files: Iterable<BaseFile>): Generator<undefined, Snapshot> {
    const empty = Object.fromEntries(kinds.map((kind) => [kind, SharedMap.of()])) as unknown as Tables;
    const start = new Snapshot(configFile, SharedMap.of(), new Map(), empty, new Map(), new Layers(), SharedMap.of());
    return start.changed(Array.from(files, (file) => ({ path: file.path, file })));
  }

  /** The base after these files were replaced, added, or (where `file` is undefined) removed. */
  with(changes: readonly FileChange[]): Snapshot {
    return drained(this.changed(changes));
  }

  private *changed(changes: readonly FileChange[]): Generator<undefined, Snapshot> {
    const files = new Map<string, BaseFile | undefined>();
    const troubled = new Map(this.troubledFiles);
    const writer = new TableWriter(this.tables);
    for (const [position, { path, file }] of changes.entries()) {
      if (position % filesPerStep === filesPerStep - 1) yield;
      const old = files.has(path) ? files.get(path) : this.files.get(path);
      if (old) writer.remove(old);
      const kept = file && writer.add(file);
      files.set(path, kept);
      if (kept && isTroubled(kept.facts)) troubled.set(path, kept);
      else troubled.delete(path);
    }
    return new Snapshot(
      this.configFile,
      this.files.with(files),
      troubled,
      writer.finish(),
      writer.crowds(this.crowded),
      this.layers,
      this.attachments,
      writer.sort(this.sortedByKind),
    );
  }

  /** The same files under other settings. */
  withConfig(configFile: ConfigFile): Snapshot {
    return this.under(configFile, this.attachments);
  }

  /** The same records, where this is known of the other files they name; undefined is put for what is known no more. */
  withAttachments(seen: Iterable<readonly [path: string, attachment: Attachment | undefined]>): Snapshot {
    const news = [...seen].filter(([path, attachment]) => !isEqual(this.attachments.get(path), attachment));
    return news.length === 0 ? this : this.under(this.configFile, this.attachments.with(news));
  }

  /** What was seen of a file that records name, by its path in the base; undefined where nobody has looked. */
  attachment(path: string): Attachment | undefined {
    return this.attachments.get(path);
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
    return drained(this.recordsInSteps(kind));
  }

  /** The same in steps: the first time they are sorted. */
  *recordsInSteps<K extends Kind>(kind: K): Generator<undefined, readonly RecordOf<K>[]> {
    let sorted = this.sortedByKind.get(kind);
    if (!sorted) {
      const standing = Array.from(this.tables[kind].values(), ([first]) => first?.record);
      sorted = yield* sortInSteps(
        standing.flatMap((record) => record ?? []),
        (a, b) => byCodeUnits(a.id, b.id),
      );
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

  /** All records of that kind and id, the one that stands first; empty where there is none. */
  standings(kind: Kind, id: string): readonly Standing[] {
    return this.tables[kind].get(id) ?? [];
  }

  /** The records of every kind that stand, in no particular order. */
  *allRecords(): Generator<AnyRecord> {
    for (const kind of kinds) for (const [first] of this.tables[kind].values()) if (first) yield first.record;
  }

  /** Where a record of this snapshot stands. Throws for a record of another snapshot, which is a mistake in the caller. */
  locate(record: AnyRecord): Standing {
    const found = this.standings(record.kind, record.id).find((standing) => standing.record === record);
    if (!found) throw new Error(`${record.kind}/${record.id} is not a record of this snapshot`);
    return found;
  }

  /** Records whose id an earlier record of their kind already has, with that earlier one. */
  *duplicates(): Generator<{ readonly again: Standing; readonly first: Standing }> {
    for (const { kind, id } of this.crowded.values()) {
      const [first, ...later] = this.tables[kind].get(id) ?? [];
      if (first) for (const again of later) yield { again, first };
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

  private under(configFile: ConfigFile, attachments: SharedMap<Attachment>): Snapshot {
    return new Snapshot(
      configFile,
      this.files,
      this.troubledFiles,
      this.tables,
      this.crowded,
      this.layers,
      attachments,
      this.sortedByKind,
    );
  }
}

/** Records of a kind that are put one by one into their sorted list. */
const mostReplaced = 100;

/** An id that several records of a kind have. */
interface Crowd {
  readonly kind: Kind;
  readonly id: string;
}

/** Gathers what becomes of the tables while files come and go. */
class TableWriter {
  /** By kind and id, what stands under it instead of what the tables hold. */
  private readonly changes = new Map<Kind, Map<string, readonly Standing[] | undefined>>();

  constructor(private readonly tables: Tables) {}

  remove(file: BaseFile): void {
    for (const { record } of file.facts.records) {
      const rest = this.standings(record).filter((standing) => standing.file.path !== file.path);
      this.set(record, rest.length > 0 ? rest : undefined);
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
    const kept: BaseFile = reused.size === 0 ? file : { ...file, facts: { ...file.facts, records } };
    for (const { record, document } of records) {
      const all = [...this.standings(record), { record, file: kept, document }];
      this.set(record, all.length > 1 ? all.sort(byStanding) : all);
    }
    return kept;
  }

  /** The records of each kind by id, as far as they were sorted before. */
  sort(before: ReadonlyMap<Kind, readonly AnyRecord[]>): Map<Kind, readonly AnyRecord[]> {
    const sorted = new Map(before);
    for (const [kind, changes] of this.changes) {
      const records = sorted.get(kind);
      // Sorting again is cheaper than replacing many one by one.
      if (!records || changes.size > mostReplaced) sorted.delete(kind);
      else {
        const current = replaceSorted(records, changes.keys(), idOf, (id) => changes.get(id)?.[0]?.record);
        sorted.set(kind, current);
      }
    }
    return sorted;
  }

  finish(): Tables {
    const written = Array.from(this.changes, ([kind, changes]) => [kind, this.tables[kind].with(changes)] as const);
    return { ...this.tables, ...Object.fromEntries(written) };
  }

  /** The ids that several records of a kind have. */
  crowds(before: ReadonlyMap<string, Crowd>): ReadonlyMap<string, Crowd> {
    const crowds = new Map(before);
    for (const [kind, changes] of this.changes) {
      for (const [id, standings = []] of changes) {
        if (standings.length > 1) crowds.set(`${kind}/${id}`, { kind, id });
        else if (crowds.size > 0) crowds.delete(`${kind}/${id}`);
      }
    }
    return crowds;
  }

  private standings({ kind, id }: AnyRecord): readonly Standing[] {
    const changes = this.changes.get(kind);
    return (changes?.has(id) ? changes.get(id) : this.tables[kind].get(id)) ?? [];
  }

  private set({ kind, id }: AnyRecord, standings: readonly Standing[] | undefined): void {
    const changes = this.changes.get(kind);
    if (changes) changes.set(id, standings);
    else this.changes.set(kind, new Map([[id, standings]]));
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
