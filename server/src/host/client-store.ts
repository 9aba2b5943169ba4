import { type Attachment, mostAttachmentBytes, type Need, type WantedFile } from '../core/captures/attachment.ts';
import { configPath } from '../core/checks/config-invalid.ts';
import type { ConfigFile, Snapshot } from '../core/index/snapshot.ts';
import { BasePaths } from '../core/model/base-path.ts';
import { attachmentOf, unread } from './attachment-of.ts';
import type { BaseReader, BaseStore } from './base-store.ts';
import { contentIdOf } from './content-id.ts';
import type { Listing, ReadFile } from './host.ts';
import { loadBase } from './load-base.ts';

/** A file as a client sends it: its bytes in base64, or why they cannot be had. */
export type SentFile = { readonly base64: string } | { readonly reason: string; readonly isMissing: boolean };

/** What a client says of a file without its bytes: how many they are, or why they cannot be had. */
export type SentSize = { readonly bytes: number } | Extract<SentFile, { readonly reason: string }>;

/** What a client is asked for. Paths are relative to the folder, with `/`. */
export interface ClientFiles {
  /** All YAML files at or below a folder. */
  list(folder: string): Promise<readonly string[]>;
  /** Files by path, in the order asked for. */
  read(folder: string, paths: readonly string[]): Promise<readonly SentFile[]>;
  /** Sizes of files by path, in the order asked for. */
  sizes(folder: string, paths: readonly string[]): Promise<readonly SentSize[]>;
}

/** Bases in folders that only the editor can read, such as a repository it shows from afar. */
export class ClientStore implements BaseStore {
  constructor(private readonly client: ClientFiles) {}

  async findAbove(folder: string): Promise<string | undefined> {
    for (let at: string | undefined = folder; at !== undefined; at = folderAbove(at)) {
      const [config] = await this.client.read(at, [configPath]);
      if (config && 'base64' in config) return at;
    }
    return undefined;
  }

  async findBelow(folder: string): Promise<readonly string[]> {
    return foldersOfBases(await this.client.list(folder)).map((path) => (path === '' ? folder : `${folder}/${path}`));
  }

  open(root: string): BaseReader {
    return new ClientReader(root, this.client);
  }
}

class ClientReader implements BaseReader {
  constructor(
    private readonly root: string,
    private readonly client: ClientFiles,
  ) {}

  async list(ignore: readonly string[]): Promise<Listing> {
    const base = new BasePaths(ignore);
    const all = await this.client.list(this.root);
    // A folder with a config of its own is another base.
    const inner = foldersOfBases(all).filter((folder) => folder !== '');
    const isInner = (path: string) => inner.some((folder) => path.startsWith(`${folder}/`));
    return { paths: all.filter((path) => base.belongs(path) && !isInner(path)), unreadable: [] };
  }

  async readMany(paths: readonly string[]): Promise<readonly ReadFile[]> {
    if (paths.length === 0) return [];
    const files = await this.client.read(this.root, paths);
    return paths.map((_, position) => toReadFile(files[position]));
  }

  async lookAt(wanted: readonly WantedFile[]): Promise<readonly Attachment[]> {
    if (wanted.length === 0) return [];
    const paths = wanted.map(({ path }) => path);
    const sizes = await this.client.sizes(this.root, paths);
    const seen = wanted.map(({ need }, position) => seenBySize(need, sizes[position]));
    const toRead = wanted.flatMap((file, position) => (seen[position] ? [] : [{ ...file, position }]));
    const sizeOf = ({ position }: { position: number }) => bytesIn(sizes[position]);
    for (const batch of batchesOf(toRead, sizeOf)) {
      const read = await this.readMany(batch.map(({ path }) => path));
      for (const [at, { need, position }] of batch.entries()) seen[position] = attachmentOf(need, read[at] ?? notSent);
    }
    return seen.map((attachment) => attachment ?? { state: 'unreadable', reason: notSent.reason });
  }

  load(configFile: ConfigFile, onProgress: (share: number) => void): Promise<Snapshot> {
    return loadBase(this, configFile, onProgress);
  }
}

function toReadFile(file: SentFile | undefined): ReadFile {
  if (!file) return notSent;
  if (!('base64' in file)) return file;
  const bytes = Uint8Array.from(atob(file.base64), (byte) => byte.charCodeAt(0));
  return { bytes, contentId: contentIdOf(bytes) };
}

const notSent = { reason: 'the editor did not send it', isMissing: false };

/** What can be said of a file whose bytes were not sent; undefined where they are needed. */
function seenBySize(need: Need, size: SentSize = notSent): Attachment | undefined {
  return 'bytes' in size ? unread(need, size.bytes) : attachmentOf(need, size);
}

function bytesIn(size: SentSize | undefined): number {
  return size && 'bytes' in size ? size.bytes : 0;
}

/** Parts of a list, each of no more bytes than one file may have, or of one file. */
function* batchesOf<Item>(items: readonly Item[], bytesOf: (item: Item) => number): Generator<readonly Item[]> {
  let batch: Item[] = [];
  let sum = 0;
  for (const item of items) {
    const bytes = bytesOf(item);
    if (batch.length > 0 && sum + bytes > mostAttachmentBytes) {
      yield batch;
      batch = [];
      sum = 0;
    }
    batch.push(item);
    sum += bytes;
  }
  if (batch.length > 0) yield batch;
}

const anywhere = new BasePaths([]);

/** Folders that hold a config, relative as the paths are; the folder all paths start from is empty. Hidden ones hold no base. */
function foldersOfBases(paths: readonly string[]): string[] {
  return paths
    .filter((path) => path === configPath || path.endsWith(`/${configPath}`))
    .map((path) => path.slice(0, -configPath.length).replace(/\/$/, ''))
    .filter((folder) => anywhere.canHold(folder))
    .sort();
}

/** The folder a folder lies in; undefined for the topmost of its address. */
function folderAbove(folder: string): string | undefined {
  const [top = ''] = /^[^:]+:(?:\/\/[^/]*)?/.exec(folder) ?? [];
  const path = top && folder.slice(top.length);
  return path.length > 1 ? top + path.slice(0, path.lastIndexOf('/')) : undefined;
}
