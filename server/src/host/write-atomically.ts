import { mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';

/** Writes a file beside its place and moves it there, so that nobody ever reads half of it. Makes the folder, for the user alone. */
export function writeAtomically(path: string, bytes: Uint8Array): void {
  mkdirSync(dirname(path), { recursive: true, mode: 0o700 });
  const aside = `${path}.${process.pid}.tmp`;
  try {
    writeFileSync(aside, bytes, { flag: 'wx', mode: 0o600 });
    renameSync(aside, path);
  } catch (error) {
    rmSync(aside, { force: true });
    throw error;
  }
}
