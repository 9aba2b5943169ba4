import { readFileSync, realpathSync } from 'node:fs';
import { basename, join, sep } from 'node:path';
import { codeOf, reasonOf } from '../system-reason.ts';

/**
 * What the kernel found out about a drive when it was connected, or about the way to it, and answers from memory.
 * Source: Linux, Documentation/ABI/testing/sysfs-block and drivers/scsi/scsi_sysfs.c.
 */
const files = [
  'device/vpd_pg89',
  'device/vpd_pg80',
  'device/vpd_pg83',
  'device/vendor',
  'device/model',
  'device/rev',
  'device/wwid',
  'device/inquiry',
  'size',
  'queue/logical_block_size',
  'queue/physical_block_size',
  'queue/rotational',
  'removable',
] as const;

/** What sysfs says of a drive: the bytes of each file by its name, and why others could not be read. What is not there is left out. */
export interface SysfsReading {
  readonly files: ReadonlyMap<string, Uint8Array>;
  readonly unreadable: readonly { readonly name: string; readonly reason: string }[];
}

/** Reads what sysfs says of a whole drive. `path` is the way from the host's own bus to it. The drive is asked nothing. */
export function readSysfs(root: string, drive: string): SysfsReading {
  const entry = join(root, 'sys/block', drive);
  const way = realpathSync(entry).split(sep).join('/');
  const read = new Map<string, Uint8Array>();
  const unreadable: { name: string; reason: string }[] = [];
  for (const file of files) {
    try {
      read.set(basename(file), readFileSync(join(entry, file)));
    } catch (error) {
      if (codeOf(error) !== 'ENOENT') unreadable.push({ name: basename(file), reason: reasonOf(error) });
    }
  }
  read.set('path', new TextEncoder().encode(way.slice(way.lastIndexOf('/devices/'))));
  return { files: read, unreadable };
}
