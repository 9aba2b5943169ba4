import { accessSync, constants, statSync } from 'node:fs';

/** Whether a path is a file that may be run. */
export function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return statSync(path).isFile();
  } catch {
    return false;
  }
}
