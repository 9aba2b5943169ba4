import { closeSync, constants, fstatSync, openSync } from 'node:fs';
import { resolve } from 'node:path';
import { readUpTo } from '../host/disk/read-up-to.ts';
import { reasonOf } from '../host/system-reason.ts';
import { UsageError } from './exit-codes.ts';
import type { Terminal } from './terminal.ts';

/** The name that stands for standard input. */
const standardInput = '-';

/** The first `most` bytes of a file, or of standard input for `-`. Never reads from a device: to ask a drive is another matter. */
export function readSomeBytes(name: string, most: number, terminal: Terminal): Uint8Array {
  try {
    if (name === standardInput) return readUpTo(0, most);
    const handle = openSync(resolve(terminal.cwd, name), constants.O_RDONLY | constants.O_NONBLOCK);
    try {
      const stats = fstatSync(handle);
      if (stats.isBlockDevice() || stats.isCharacterDevice()) {
        throw new UsageError(`\`${name}\` is a device, not a file.`, 'Name a file that holds what the drive reported.');
      }
      return readUpTo(handle, most);
    } finally {
      closeSync(handle);
    }
  } catch (error) {
    if (error instanceof UsageError) throw error;
    throw new UsageError(`\`${name}\` cannot be read: ${reasonOf(error)}.`);
  }
}
