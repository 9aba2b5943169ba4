import type { ConfigFile, Snapshot } from '../core/index/snapshot.ts';
import type { Host } from './host.ts';

/** One base as an adapter that goes on living reads it. */
export interface BaseReader extends Host {
  /** Every file of the base under this config. `onProgress` is told now and then which share is read, 0 to 1. */
  load(configFile: ConfigFile, onProgress: (share: number) => void): Promise<Snapshot>;
}

/** Where bases lie. Folders are URIs without a slash at the end. Nothing here throws for what is not there. */
export interface BaseStore {
  /** The nearest folder at or above this one that holds a config; undefined where none does. */
  findAbove(folder: string): Promise<string | undefined>;
  /** All folders at or below this one that hold a config. */
  findBelow(folder: string): Promise<readonly string[]>;
  /** The base in a folder that holds a config. */
  open(root: string): BaseReader;
}
