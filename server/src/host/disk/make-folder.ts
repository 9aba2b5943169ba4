import { existsSync, mkdirSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import { codeOf } from '../system-reason.ts';

/**
 * Makes a folder and those above it that are missing, all with one mode. Throws what the system throws where it cannot: `recursive` of
 * Node gives another reason where the disk can only be read, and never comes back where a folder that is there takes no other.
 */
export function makeFolder(folder: string, mode = 0o777): void {
  try {
    mkdirSync(folder, mode);
  } catch (error) {
    if (isFolder(folder)) return;
    const above = dirname(folder);
    if (codeOf(error) !== 'ENOENT' || existsSync(above)) throw error;
    makeFolder(above, mode);
    // Somebody may have been quicker meanwhile; nothing above is missing now.
    makeFolder(folder, mode);
  }
}

function isFolder(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;
}
