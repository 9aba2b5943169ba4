import { constants, copyFileSync, linkSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { codeOf } from '../system-reason.ts';
import { makeFolder } from './make-folder.ts';

/**
 * Writes a file that is not there yet, whole or not at all, and makes its folder. False where something is there already, which stays as
 * it is. Throws what the system throws where it cannot write.
 */
export function writeNewFile(path: string, text: string): boolean {
  makeFolder(dirname(path));
  const aside = `${path}.${process.pid}.tmp`;
  try {
    writeFileSync(aside, text, { flag: 'wx' });
    takeName(aside, path);
    return true;
  } catch (error) {
    if (codeOf(error) === 'EEXIST') return false;
    throw error;
  } finally {
    rmSync(aside, { force: true });
  }
}

/** Gives a file another name, never over one that is taken, as renaming would. */
export function takeName(aside: string, path: string): void {
  try {
    linkSync(aside, path);
  } catch (error) {
    if (codeOf(error) === 'EEXIST') throw error;
    // Not every file system has second names.
    copyFileSync(aside, path, constants.COPYFILE_EXCL);
  }
}
