/** Files and folders of a running system, which may go at any time: what is not there is empty. */
import { readdirSync, readFileSync } from 'node:fs';

/** The lines of a file, without empty ones. */
export function linesIn(path: string): readonly string[] {
  try {
    return readFileSync(path, 'utf8')
      .split('\n')
      .filter((line) => line !== '');
  } catch {
    return [];
  }
}

/** The names in a folder, sorted. */
export function namesIn(folder: string): readonly string[] {
  try {
    return readdirSync(folder).sort();
  } catch {
    return [];
  }
}
