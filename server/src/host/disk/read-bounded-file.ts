import { closeSync, constants, fstatSync, openSync } from 'node:fs';
import { reasonOf } from '../system-reason.ts';
import { readUpTo } from './read-up-to.ts';

/** What reading a file came to. `size` is that of a file which holds more than it may, in bytes. */
export type BoundedFile = { readonly bytes: Uint8Array } | { readonly reason: string } | { readonly size: number };

/** Reads a file that somebody named, following links, and nothing of one that is larger than `mostBytes`. Never throws, and never waits for a pipe. */
export function readBoundedFile(path: string, mostBytes: number): BoundedFile {
  try {
    const handle = openSync(path, constants.O_RDONLY | constants.O_NONBLOCK);
    try {
      const stats = fstatSync(handle);
      if (stats.isDirectory()) return { reason: 'it is a folder' };
      if (!stats.isFile()) return { reason: 'it is no regular file' };
      // A file that grows while it is read is cut where it ended before.
      return stats.size > mostBytes ? { size: stats.size } : { bytes: readUpTo(handle, stats.size) };
    } finally {
      closeSync(handle);
    }
  } catch (error) {
    return { reason: reasonOf(error) };
  }
}
