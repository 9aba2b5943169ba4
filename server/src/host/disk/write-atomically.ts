import { mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';

/** Whom a file is for: the user alone, or whomever the user lets read other files. */
type Readers = 'own' | 'shared';

const modes: Readonly<Record<Readers, { readonly folder: number; readonly file: number }>> = {
  own: { folder: 0o700, file: 0o600 },
  shared: { folder: 0o777, file: 0o666 },
};

/** Writes a file beside its place and moves it there, so that nobody ever reads half of it. Makes the folder. */
export function writeAtomically(path: string, bytes: Uint8Array, readers: Readers): void {
  const mode = modes[readers];
  mkdirSync(dirname(path), { recursive: true, mode: mode.folder });
  const aside = `${path}.${process.pid}.tmp`;
  try {
    writeFileSync(aside, bytes, { flag: 'wx', mode: mode.file });
    renameSync(aside, path);
  } catch (error) {
    rmSync(aside, { force: true });
    throw error;
  }
}
