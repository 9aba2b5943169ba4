import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { linesIn } from './kernel-files.ts';

/** Whether udev keeps a record of a drive, which programs go by that would read the drive otherwise. Source: as systemd lays it out in /run. */
export function isKnownToUdev(root: string, drive: string): boolean {
  const [number = ''] = linesIn(join(root, 'sys/class/block', drive, 'dev'));
  return number !== '' && existsSync(join(root, 'run/udev/data', `b${number}`));
}
