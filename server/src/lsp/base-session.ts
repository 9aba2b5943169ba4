/**
 * One base while a server runs: what is saved, with what editors hold laid over it.
 * Invariant 11: `isIndexed` says whether all files are in the snapshot; nothing that rests on absence is shown before.
 */
import type { WantedFile } from '../core/captures/attachment.ts';
import { configPath } from '../core/checks/config-invalid.ts';
import type { OpenFile } from '../core/features/open-file.ts';
import { newlyWanted, noWants, type Wants, wantedAmong, wants, wantsOf } from '../core/index/attachments.ts';
import { deriving } from '../core/index/derivation.ts';
import { type BaseFile, type ConfigFile, Snapshot } from '../core/index/snapshot.ts';
import { BasePaths } from '../core/model/base-path.ts';
import { readConfig } from '../core/model/config.ts';
import { readRecordFile } from '../core/model/file-facts.ts';
import type { Tape } from '../core/syntax/tape.ts';
import { shortName } from '../core/text/short-name.ts';
import type { BaseReader } from '../host/base-store.ts';
import { loadConfig, lookAt, toBaseFile } from '../host/load-base.ts';
import { foldersAbove, foldersIn } from './folders-in.ts';
import type { TextDocument } from './text-document.ts';
import { type Encoding, TextPositions } from './text-positions.ts';
import { pathBelow, uriBelow } from './uris.ts';

/** The text of a file with its tape, and how its offsets are counted. */
export interface FileText {
  readonly contentId: string;
  readonly tape: Tape;
  readonly positions: TextPositions;
}

/** What a session is told of its surroundings. */
export interface SessionOptions {
  /** Address of the base's folder, in the canonical spelling. */
  readonly root: string;
  readonly reader: BaseReader;
  readonly encoding: Encoding;
  /** Does long work with pauses for messages. */
  readonly inSlices: <Result>(work: Generator<undefined, Result>) => Promise<Result>;
  /** Called after every change of the snapshot. */
  readonly onChange: () => void;
  /** Called where the base has to be loaded again, since other files belong to it now than did. */
  readonly onOutdated: () => void;
}

/** A change of the files of a snapshot. */
type Change = Parameters<Snapshot['with']>[0][number];

/** A base and what is known of it. */
export class BaseSession {
  readonly root: string;
  private readonly documents = new Map<string, TextDocument>();
  /** All files, whatever becomes of the config meanwhile. */
  private files: Snapshot;
  /** The snapshot under a config that cannot be used. */
  private bare: Snapshot | undefined;
  /** The other files named by records that were looked at, or are to be in a turn that is coming. */
  private looked: Wants = noWants;
  private hasLoaded = false;
  private endFirstLoad: () => void = () => undefined;
  private readonly firstLoad = new Promise<void>((resolve) => {
    this.endFirstLoad = resolve;
  });
  /** Reading is done in turn, so that what was read later counts. */
  private turn: Promise<unknown> = Promise.resolve();

  private constructor(
    private readonly options: SessionOptions,
    private configFile: ConfigFile,
  ) {
    this.root = options.root;
    this.files = Snapshot.of(configFile, []);
  }

  /** The session of the base in a folder. Its files are still to load. */
  static async of(options: SessionOptions): Promise<BaseSession> {
    return new BaseSession(options, await loadConfig(options.reader));
  }

  /** What people call the base: as its config has it, else as its folder. */
  get name(): string {
    return shortName(this.snapshot.config.name ?? decodeURIComponent(this.root.slice(this.root.lastIndexOf('/') + 1)));
  }

  /** Whether all files of the base are in the snapshot. */
  get isIndexed(): boolean {
    return this.hasLoaded;
  }

  /** The base as it is now. */
  get snapshot(): Snapshot {
    if (this.configFile.reading.isUsable) return this.files;
    this.bare ??= Snapshot.of(this.configFile, []);
    return this.bare;
  }

  /** Open documents by path. */
  get opened(): ReadonlyMap<string, TextDocument> {
    return this.documents;
  }

  /** Resolves when the base was loaded, or that has failed, and all reading that was begun since has ended. */
  async settled(): Promise<void> {
    // A base is known some time before its loading begins.
    await this.firstLoad;
    await this.turn;
  }

  /** The path of a file that belongs to the base, the config among them; undefined for any other. */
  pathOf(uri: string): string | undefined {
    const path = pathBelow(this.root, uri);
    return path !== undefined && this.isOwn(path) ? path : undefined;
  }

  /**
   * The paths of the files that are or were at addresses: of a file that belongs to the base, or that records name, its own, of a
   * folder those of all in it.
   */
  pathsAt(uris: readonly string[]): readonly string[] {
    const changed = uris.flatMap((uri) => pathBelow(this.root, uri) ?? []);
    const paths = new Set(changed.filter((path) => this.isOwn(path) || this.looked.has(path)));
    for (const known of [this.files.files, this.looked]) {
      const folders = new Set(changed.filter((path) => foldersIn(known).has(path)));
      if (folders.size === 0) continue;
      for (const path of known.keys()) if (foldersAbove(path).some((folder) => folders.has(folder))) paths.add(path);
    }
    return [...paths];
  }

  /** The address of a file: of an open one as the client spells it. */
  uriOf(path: string): string {
    return this.documents.get(path)?.uri ?? uriBelow(this.root, path);
  }

  /** What a feature is told of an open file. */
  openFile(path: string, { reading: { tape } }: TextDocument): OpenFile {
    return { path, tape, snapshot: this.snapshot, isIndexed: this.isIndexed };
  }

  /** Takes what an editor holds of a file for its content. */
  show(path: string, document: TextDocument): void {
    this.documents.set(path, document);
    if (path === configPath) this.takeConfig(configOf(document));
    else this.files = this.files.with(this.overlay(path, document));
    this.lookAtNews();
    this.options.onChange();
  }

  /** Takes again what is saved of a file that was open. */
  async hide(path: string): Promise<void> {
    this.documents.delete(path);
    await this.reread([path]);
  }

  /** Reads files that somebody saved, made or removed. Those that are open stay as the editor has them. */
  reread(paths: readonly string[]): Promise<void> {
    return this.inTurn(async () => {
      const { reader, onChange, onOutdated } = this.options;
      const records = paths.filter((path) => this.belongs(path) || this.files.files.has(path));
      const read = await reader.readMany(records);
      if (paths.includes(configPath)) {
        const configFile = await loadConfig(reader);
        if (!this.documents.has(configPath)) this.takeConfig(configFile);
      }
      const changes: Change[] = [];
      for (const [position, path] of records.entries()) {
        const file = read[position];
        // Opened while it was read: the editor's text counts.
        if (!file || this.documents.has(path)) continue;
        if (!this.belongs(path)) changes.push({ path, file: undefined });
        else if ('bytes' in file) changes.push({ path, file: toBaseFile(path, file) });
        else if (file.isMissing) changes.push({ path, file: undefined });
        // A link, or what may not be read: which of them belong to the base is known when it is walked again.
        else onOutdated();
      }
      this.files = this.files.with(changes);
      await this.lookAt(wantedAmong(paths, this.looked));
      await this.lookAt(this.takeNews());
      onChange();
    });
  }

  /** Reads the whole base, the first time or again. */
  load(onProgress: (share: number) => void): Promise<void> {
    const loaded = this.inTurn(async () => {
      const { reader, inSlices, onChange, onOutdated } = this.options;
      // It may have changed behind a client that watches nothing.
      if (!this.documents.has(configPath)) this.setConfig(await loadConfig(reader));
      const { configFile } = this;
      if (configFile.reading.isUsable) {
        const loaded = await reader.load(configFile, onProgress);
        const looked = await inSlices(deriving(wants, loaded));
        this.files = this.mergedWith(loaded).withConfig(this.files.configFile);
        this.looked = looked;
      }
      this.hasLoaded = true;
      // What open documents name.
      await this.lookAt(this.takeNews());
      if (this.configFile.reading.isUsable && isOtherList(configFile, this.configFile)) onOutdated();
      onChange();
    });
    return loaded.finally(this.endFirstLoad);
  }

  /** The texts of files, open or not; those that cannot be read are absent. */
  async textsOf(paths: readonly string[]): Promise<ReadonlyMap<string, FileText>> {
    const texts = new Map<string, FileText>();
    const closed: string[] = [];
    for (const path of paths) {
      const document = this.documents.get(path);
      if (document) texts.set(path, textOf(document));
      else closed.push(path);
    }
    if (closed.length === 0) return texts;
    for (const [position, file] of (await this.options.reader.readMany(closed)).entries()) {
      if (!('bytes' in file)) continue;
      const { tape } = readRecordFile(file.bytes);
      const positions = new TextPositions(tape.text, this.options.encoding);
      texts.set(closed[position] ?? '', { contentId: file.contentId, tape, positions });
    }
    return texts;
  }

  /** Whether a file is the config or one of the base's records. */
  private isOwn(path: string): boolean {
    return path === configPath || this.belongs(path);
  }

  /** Whether a file is one of the base's records. */
  private belongs(path: string): boolean {
    return new BasePaths(this.snapshot.config.ignore).belongs(path);
  }

  private inTurn(task: () => Promise<void>): Promise<void> {
    const done = this.turn.then(task);
    this.turn = done.catch(() => undefined);
    return done;
  }

  /** Looks, when it is its turn, at files that records have come to name. */
  private lookAtNews(): void {
    const wanted = this.takeNews();
    if (wanted.length === 0) return;
    this.inTurn(async () => {
      await this.lookAt(wanted);
      this.options.onChange();
    }).catch(() => {
      // A client that lends files is gone. Of what nobody has looked at nothing is said.
    });
  }

  /** Files that records have come to name and nobody has looked at; what nobody names any more is let go. */
  private takeNews(): readonly WantedFile[] {
    // Until the base is loaded most are still to come, and loading looks at them all.
    const now = this.hasLoaded ? wantsOf(this.files) : this.looked;
    if (now === this.looked) return [];
    const { wanted, unwanted } = newlyWanted(this.looked, now);
    this.looked = now;
    this.files = this.files.withAttachments(unwanted.map((path) => [path, undefined]));
    return wanted;
  }

  private async lookAt(wanted: readonly WantedFile[]): Promise<void> {
    const seen = await lookAt(this.options.reader, wanted);
    // Some may have been let go meanwhile.
    this.files = this.files.withAttachments(seen.filter(([path]) => this.looked.has(path)));
  }

  /** What was loaded, with what stayed as it was kept, and open documents laid over it. */
  private mergedWith(loaded: Snapshot): Snapshot {
    let merged = loaded;
    if (this.hasLoaded) {
      const changes: Change[] = [];
      for (const file of loaded.files.values()) {
        if (this.files.files.get(file.path)?.contentId !== file.contentId) changes.push({ path: file.path, file });
      }
      for (const path of this.files.files.keys()) if (!loaded.files.has(path)) changes.push({ path, file: undefined });
      merged = this.files.with(changes);
    }
    const seen = [...merged.attachments.differingKeys(loaded.attachments)];
    merged = merged.withAttachments(seen.map((path) => [path, loaded.attachment(path)]));
    for (const [path, document] of this.documents) {
      if (this.belongs(path)) merged = merged.with(this.overlay(path, document, merged));
    }
    return merged;
  }

  /** What an open document changes in the base. */
  private overlay(path: string, document: TextDocument, files = this.files): readonly Change[] {
    const { contentId } = document.content;
    if (files.files.get(path)?.contentId === contentId) return [];
    const file: BaseFile = { path, contentId, facts: document.reading.facts };
    return [{ path, file }];
  }

  private setConfig(configFile: ConfigFile): void {
    if (configFile.contentId !== '' && configFile.contentId === this.configFile.contentId) return;
    this.configFile = configFile;
    this.bare = undefined;
    if (configFile.reading.isUsable) this.files = this.files.withConfig(configFile);
  }

  /** Goes on under another config, and says where the base has to be loaded again for it. */
  private takeConfig(configFile: ConfigFile): void {
    const before = this.files.configFile;
    this.setConfig(configFile);
    if (!configFile.reading.isUsable) return;
    const isFirstUsable = !before.reading.isUsable;
    if (this.hasLoaded && (isFirstUsable || isOtherList(before, configFile))) this.options.onOutdated();
  }
}

/** Whether two configs leave out other files. */
function isOtherList(a: ConfigFile, b: ConfigFile): boolean {
  return JSON.stringify(a.reading.config.ignore) !== JSON.stringify(b.reading.config.ignore);
}

function configOf(document: TextDocument): ConfigFile {
  const { bytes, contentId } = document.content;
  return { contentId, reading: readConfig(bytes) };
}

function textOf({ content, reading, positions }: TextDocument): FileText {
  return { contentId: content.contentId, tape: reading.tape, positions };
}
