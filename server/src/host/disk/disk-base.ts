/**
 * One base on a disk, read with what is remembered of it.
 * Laws (test/property/base-cache.property.test.ts):
 * - what is remembered changes no finding
 */
import { type Attachment, isMore, type Need, type WantedFile } from '../../core/captures/attachment.ts';
import { wantedFiles } from '../../core/captures/named-files.ts';
import { configPath } from '../../core/checks/config-invalid.ts';
import type { BaseFile, ConfigFile, Snapshot } from '../../core/index/snapshot.ts';
import { type FileFacts, unreadableFacts } from '../../core/model/file-facts.ts';
import { byCodeUnits } from '../../core/text/by-code-units.ts';
import type { Listing } from '../host.ts';
import { loadConfig } from '../load-base.ts';
import type { BaseCache, SeenAttachments, Stamps } from './base-cache.ts';
import { type BaseState, type LoadedBase, type Snapshots, snapshotsOf, stateOf } from './base-state.ts';
import { DiskAttachments } from './disk-attachments.ts';
import { DiskHost } from './disk-host.ts';
import { inSlices } from './in-slices.ts';
import { factsIdOf } from './load-batch.ts';
import { loadFiles } from './load-files.ts';
import { findStamp, readDiskFile, type Stamp } from './read-disk-file.ts';

/** Unrecognised files from which on it pays to look for their facts among all those remembered, instead of parsing them. */
const manyFiles = 64;

/** Facts that no file has any more, beyond as many as are in use, that may pile up before they are cleared away. */
const mostUnused = 1000;

/**
 * Time in which two writes may leave one stamp on a file, in milliseconds: two seconds on FAT, the coarsest file system in use.
 * The stamp of a file that young is not trusted.
 */
const coarsestTickMs = 2000;

/** Files looked at between two yields. */
const filesPerStep = 50;

/** How a base on disk is read. */
export interface DiskOptions {
  readonly cache: BaseCache | undefined;
  /** Program of further threads; undefined where there is none. */
  readonly loader: string | undefined;
  /** Whether everything will have to be loaded: then what is remembered is read while folders are listed. */
  readonly isLoadedWhole?: boolean;
  /** The config to go by instead of the one on disk, as where an editor holds one that is not saved. */
  readonly configFile?: ConfigFile;
  /** Told now and then which share of the files is loaded, 0 to 1. */
  readonly onProgress?: (share: number) => void;
}

interface KnownFile {
  readonly contentId: string;
  /** Equal for equal facts, whatever the bytes; empty where that is not known. */
  factsId: string;
  readonly stamp: Stamp | undefined;
  /** Undefined until they are needed, for a file that was recognised. */
  facts: FileFacts | undefined;
  /** The other files that its records name. */
  wanted: readonly WantedFile[];
}

/** What was seen of another file that records name. */
interface KnownAttachment {
  readonly need: Need;
  readonly seen: Attachment;
  readonly stamp: Stamp | undefined;
}

/** A base whose files are listed and told apart by the ids of their content. Their facts may still be to load. */
export class DiskBase {
  /** Files whose facts were not remembered, and those of them that the fast reader left to the recovering one. */
  readonly counts = { parsed: 0, gaveUp: 0 };
  private readonly files = new Map<string, KnownFile>();
  private readonly attachments = new Map<string, KnownAttachment>();
  private remembered: Map<string, FileFacts> | undefined;

  private constructor(
    private readonly root: string,
    readonly configFile: ConfigFile,
    private readonly listing: Listing,
    private readonly options: DiskOptions,
  ) {}

  /** Looks which files there are and what they hold. Those that are not recognised are read and loaded at once. */
  static async survey(root: string, options: DiskOptions): Promise<DiskBase> {
    const startedMs = Date.now();
    const host = new DiskHost(root);
    const configFile = options.configFile ?? (await loadConfig(host));
    const { isUsable, config } = configFile.reading;
    const listed = isUsable ? host.list(config.ignore) : { paths: [], unreadable: [] };
    const { cache, isLoadedWhole = false } = options;
    const remembered = isLoadedWhole && cache?.hasFacts ? await inSlices(cache.readFacts()) : undefined;
    const base = new DiskBase(root, configFile, await listed, options);
    base.remembered = remembered;
    await base.recognise(startedMs);
    base.lookAtAttachments(startedMs);
    return base;
  }

  /** Files of records. */
  get fileCount(): number {
    return this.listing.paths.length + this.listing.unreadable.length;
  }

  /** Other files that records name, those that are not there among them. */
  get attachmentCount(): number {
    return this.attachments.size;
  }

  /** Bytes of all files of records, the config among them. */
  get bytes(): number {
    let sum = findStamp(this.root, configPath)?.[0] ?? 0;
    for (const { stamp } of this.files.values()) sum += stamp?.[0] ?? 0;
    return sum;
  }

  /** The content id of one of the files of records; undefined of any other. */
  contentIdOf(path: string): string | undefined {
    return this.files.get(path)?.contentId;
  }

  /**
   * All that findings follow from besides the program, the day and the checks, save for where in a file they stand, which content ids
   * tell; undefined where something cannot be read, since the reason may pass without a trace.
   */
  get inputs(): readonly string[] | undefined {
    const inputs = [this.configFile.contentId];
    for (const path of this.listing.paths) inputs.push(path, this.files.get(path)?.factsId ?? '');
    for (const [path, known] of this.attachments) inputs.push(path, contentOf(known));
    return this.listing.unreadable.length > 0 || inputs.includes('') ? undefined : inputs;
  }

  /** The base with everything loaded. */
  async snapshot(): Promise<Snapshot> {
    const { now } = await inSlices(snapshotsOf(await this.loaded(), undefined, () => undefined));
    return now;
  }

  /** The same, made from an earlier state where all of that is remembered; with the state that it is in now. */
  async snapshotsSince(earlier: BaseState | undefined): Promise<Snapshots & { readonly state: BaseState }> {
    const loaded = await this.loaded();
    const factsOf = (contentId: string) => this.remembered?.get(contentId);
    const snapshots = await inSlices(snapshotsOf(loaded, earlier, factsOf));
    return { ...snapshots, state: stateOf(loaded) };
  }

  private async loaded(): Promise<LoadedBase> {
    const missing = this.listing.paths.filter((path) => !this.files.get(path)?.facts);
    await this.load(await inSlices(this.recall(missing)));
    const files = this.listing.paths.map((path): BaseFile => {
      const { contentId = '', facts = unreadableFacts('it does not exist') } = this.files.get(path) ?? {};
      return { path, contentId, facts };
    });
    const unreadable = this.listing.unreadable.map(({ path, reason }): BaseFile => {
      return { path, contentId: '', facts: unreadableFacts(reason) };
    });
    const attachments = Array.from(this.attachments, ([path, { seen }]) => [path, seen] as const);
    return { configFile: this.configFile, files: [...files, ...unreadable], attachments };
  }

  private async recognise(startedMs: number): Promise<void> {
    const { cache } = this.options;
    const before: Stamps = cache ? await inSlices(cache.readStamps()) : new Map();
    let unknown = await inSlices(this.recogniseAmong(before));
    const isNews = unknown.length > 0 || before.size > this.files.size;
    if (cache?.hasFacts && unknown.length >= manyFiles) {
      await inSlices(this.identify(unknown));
      unknown = await inSlices(this.recall(unknown));
    }
    await this.load(unknown);
    if (isNews && cache) await inSlices(cache.writeStamps(settled(this.files, startedMs)));
  }

  /** Takes down the files that have the stamps they had. Gives the paths of the others. */
  private *recogniseAmong(before: Stamps): Generator<undefined, string[]> {
    const unknown: string[] = [];
    for (const [position, path] of this.listing.paths.entries()) {
      if (position % filesPerStep === 0) yield;
      const entry = before.get(path);
      if (entry && isSameStamp(entry.stamp, findStamp(this.root, path)))
        this.files.set(path, { ...entry, facts: undefined });
      else unknown.push(path);
    }
    return unknown;
  }

  /** Takes down the content ids of files. */
  private *identify(paths: readonly string[]): Generator<undefined, void> {
    for (const [position, path] of paths.entries()) {
      if (position % filesPerStep === 0) yield;
      const file = readDiskFile(this.root, path);
      if ('bytes' in file)
        this.files.set(path, {
          contentId: file.contentId,
          factsId: '',
          stamp: file.stamp,
          facts: undefined,
          wanted: none,
        });
    }
  }

  /** Fills in remembered facts. Gives the paths of those that are not remembered. */
  private *recall(paths: readonly string[]): Generator<undefined, string[]> {
    if (paths.length === 0) return [];
    const { cache } = this.options;
    const remembered = this.remembered ?? (cache ? yield* cache.readFacts() : new Map<string, FileFacts>());
    this.remembered = remembered;
    const missing: string[] = [];
    for (const [position, path] of paths.entries()) {
      if (position % filesPerStep === 0) yield;
      const file = this.files.get(path);
      const facts = file && remembered.get(file.contentId);
      if (facts) {
        file.facts = facts;
        // Of a file that was recognised both were remembered.
        if (file.factsId === '') {
          file.factsId = factsIdOf(facts);
          file.wanted = wantedIn(facts, path);
        }
      } else missing.push(path);
    }
    if (remembered.size > 2 * this.listing.paths.length + mostUnused) this.forgetUnused(remembered);
    return missing;
  }

  private forgetUnused(remembered: ReadonlyMap<string, FileFacts>): void {
    const ids = new Set(Array.from(this.files.values(), ({ contentId }) => contentId));
    this.options.cache?.keepFacts(new Map([...remembered].filter(([id]) => ids.has(id))));
  }

  private async load(paths: readonly string[]): Promise<void> {
    const { cache, loader } = this.options;
    await loadFiles(this.root, paths, { loader, isPacked: cache !== undefined }, ({ files, gaveUp }, packed) => {
      for (const { path, factsId = '', ...file } of files) {
        const isRead = file.contentId !== '';
        this.files.set(path, { ...file, factsId: isRead ? factsId : '', wanted: wantedIn(file.facts, path) });
      }
      this.counts.parsed += files.length;
      this.options.onProgress?.(this.counts.parsed / this.fileCount);
      this.counts.gaveUp += gaveUp;
      if (packed !== undefined) cache?.addFacts(packed);
    });
  }

  /** Looks at the other files that records name; those with the stamps they had are recognised. */
  private lookAtAttachments(startedMs: number): void {
    const { cache } = this.options;
    const wanted = this.wantedByAll();
    if (wanted.size === 0) return;
    const before: SeenAttachments = cache?.readAttachments() ?? new Map();
    const disk = new DiskAttachments(this.root);
    let recognised = 0;
    let isNews = false;
    for (const [path, need] of wanted) {
      const known = before.get(path);
      const recall = (stamp: Stamp) => {
        const isKnown = known?.need === need && isSameStamp(known.stamp, stamp);
        if (isKnown) recognised++;
        else isNews = true;
        return isKnown ? known.seen : undefined;
      };
      this.attachments.set(path, { need, ...disk.look({ path, need }, recall) });
    }
    if (isNews || before.size > recognised) cache?.writeAttachments(settled(this.attachments, startedMs));
  }

  /** The most that any record wants of each file that records name, in the order of paths. */
  private wantedByAll(): ReadonlyMap<string, Need> {
    const wanted = new Map<string, Need>();
    for (const file of this.files.values()) {
      for (const { path, need } of file.wanted) {
        const most = wanted.get(path);
        if (most === undefined || isMore(need, most)) wanted.set(path, need);
      }
    }
    return new Map([...wanted].sort(([a], [b]) => byCodeUnits(a, b)));
  }
}

/** The other files that records of a file name, once for each time one is named. */
function wantedIn({ records }: FileFacts, path: string): readonly WantedFile[] {
  const wanted = records.flatMap(({ record }) => wantedFiles(record, path));
  return wanted.length === 0 ? none : wanted;
}

/** Shared by the files that name no other, which are most. */
const none: readonly WantedFile[] = [];

/** What findings may follow from of a file that records name; empty where the reason that it cannot be read may pass without a trace. */
function contentOf({ need, seen }: KnownAttachment): string {
  return seen.state === 'unreadable' ? '' : JSON.stringify([need, seen]);
}

/** Those with stamps that no later write can have left unchanged. */
function* settled<Known extends { readonly stamp: Stamp | undefined }>(
  files: ReadonlyMap<string, Known>,
  startedMs: number,
): Generator<readonly [path: string, known: Known & { readonly stamp: Stamp }]> {
  for (const [path, file] of files) {
    const { stamp } = file;
    if (stamp && Math.max(stamp[1], stamp[2]) < startedMs - coarsestTickMs) yield [path, { ...file, stamp }];
  }
}

function isSameStamp(a: Stamp, b: Stamp | undefined): boolean {
  return b !== undefined && a.every((part, position) => part === b[position]);
}
