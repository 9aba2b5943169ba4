import { fileURLToPath, pathToFileURL } from 'node:url';
import type { ConfigFile, Snapshot } from '../../core/index/snapshot.ts';
import type { BaseReader, BaseStore } from '../base-store.ts';
import { BaseCache } from './base-cache.ts';
import { DiskBase } from './disk-base.ts';
import { DiskHost } from './disk-host.ts';
import { findBaseAbove, findBasesBelow } from './find-bases.ts';

/** What is remembered of bases on disk, and what else reads them. */
export interface DiskStoreOptions {
  /** Folder for what this very build remembers; undefined where nothing is remembered. */
  readonly cacheFolder: string | undefined;
  /** Program of further threads; undefined where there is none. */
  readonly loader: string | undefined;
}

/** The bases on this machine's disks, by `file:` URIs. */
export class DiskStore implements BaseStore {
  constructor(private readonly options: DiskStoreOptions) {}

  async findAbove(folder: string): Promise<string | undefined> {
    const found = await findBaseAbove(fileURLToPath(folder));
    return found === undefined ? undefined : pathToFileURL(found).href;
  }

  async findBelow(folder: string): Promise<readonly string[]> {
    return (await findBasesBelow(fileURLToPath(folder))).map((root) => pathToFileURL(root).href);
  }

  open(root: string): BaseReader {
    return new DiskReader(fileURLToPath(root), this.options);
  }
}

class DiskReader extends DiskHost implements BaseReader {
  constructor(
    private readonly folder: string,
    private readonly options: DiskStoreOptions,
  ) {
    super(folder);
  }

  async load(configFile: ConfigFile, onProgress: (share: number) => void): Promise<Snapshot> {
    const { cacheFolder, loader } = this.options;
    const cache = cacheFolder === undefined ? undefined : BaseCache.of(this.folder, cacheFolder);
    const base = await DiskBase.survey(this.folder, { cache, loader, configFile, isLoadedWhole: true, onProgress });
    return base.snapshot();
  }
}
