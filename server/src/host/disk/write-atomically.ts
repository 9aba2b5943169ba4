import { chmodSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { makeFolder } from './make-folder.ts';

/** Whom a file is for: the user alone, whomever the user lets read other files, or those who could use the file that stands there. */
type Readers = 'own' | 'shared' | 'as_before';

const modes: Readonly<Record<Exclude<Readers, 'as_before'>, { readonly folder: number; readonly file: number }>> = {
  own: { folder: 0o700, file: 0o600 },
  shared: { folder: 0o777, file: 0o666 },
};

/** Writes a file beside its place and moves it there, so that nobody ever reads half of it. Makes the folder. */
export function writeAtomically(path: string, bytes: Uint8Array, readers: Readers): void {
  const before = readers === 'as_before' ? statSync(path).mode & 0o777 : undefined;
  const mode = modes[readers === 'as_before' ? 'own' : readers];
  makeFolder(dirname(path), mode.folder);
  const aside = `${path}.${process.pid}.tmp`;
  try {
    writeFileSync(aside, bytes, { flag: 'wx', mode: mode.file });
    if (before !== undefined) chmodSync(aside, before);
    renameSync(aside, path);
  } catch (error) {
    rmSync(aside, { force: true });
    throw error;
  }
}
