import { configPath } from '../core/checks/config-invalid.ts';
import type { ConfigFile, Snapshot } from '../core/index/snapshot.ts';
import { BasePaths } from '../core/model/base-path.ts';
import type { BaseReader, BaseStore } from './base-store.ts';
import { contentIdOf } from './content-id.ts';
import type { Listing, ReadFile } from './host.ts';
import { loadBase } from './load-base.ts';

/** A file as a client sends it: its bytes in base64, or why they cannot be had. */
export type SentFile = { readonly base64: string } | { readonly reason: string; readonly isMissing: boolean };

/** What a client is asked for. Paths are relative to the folder, with `/`. */
export interface ClientFiles {
  /** All YAML files at or below a folder. */
  list(folder: string): Promise<readonly string[]>;
  /** Files by path, in the order asked for. */
  read(folder: string, paths: readonly string[]): Promise<readonly SentFile[]>;
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

  load(configFile: ConfigFile, onProgress: (share: number) => void): Promise<Snapshot> {
    return loadBase(this, configFile, onProgress);
  }
}

function toReadFile(file: SentFile | undefined): ReadFile {
  if (!file) return { reason: 'the editor did not send it', isMissing: false };
  if (!('base64' in file)) return file;
  const bytes = Uint8Array.from(atob(file.base64), (byte) => byte.charCodeAt(0));
  return { bytes, contentId: contentIdOf(bytes) };
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
  const [, top = '', path = ''] = /^([^:]+:(?:\/\/[^/]*)?)(.*)$/.exec(folder) ?? [];
  return path.length > 1 ? top + path.slice(0, path.lastIndexOf('/')) : undefined;
}
