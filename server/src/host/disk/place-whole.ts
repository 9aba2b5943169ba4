import { lstatSync, renameSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import { makeFolder } from './make-folder.ts';
import { takeName } from './write-new-file.ts';

/**
 * Makes a file or a folder that is not there yet, whole or not at all: `make` gets another path beside it, and what it made there takes
 * the name once it is done. Throws what `make` throws, and what the system throws where it cannot write or something is there already;
 * that stays as it is, and nothing else is left.
 */
export async function placeWhole(path: string, make: (aside: string) => Promise<void> | void): Promise<void> {
  const aside = `${path}.${process.pid}.tmp`;
  makeFolder(dirname(path));
  rmSync(aside, { recursive: true, force: true });
  try {
    await make(aside);
    if (lstatSync(aside).isDirectory()) takeFolderName(aside, path);
    else takeName(aside, path);
  } finally {
    rmSync(aside, { recursive: true, force: true });
  }
}

/** A folder has no second name, so that somebody quick enough may still put an empty folder there, which is lost. */
function takeFolderName(aside: string, path: string): void {
  if (isTaken(path)) throw Object.assign(new Error(`${path} is there`), { code: 'EEXIST' });
  renameSync(aside, path);
}

/** Whether anything stands at a path, be it a link that leads nowhere. Throws what the system throws where that cannot be seen. */
export function isTaken(path: string): boolean {
  return lstatSync(path, { throwIfNoEntry: false }) !== undefined;
}
