import { existsSync } from 'node:fs';

/** Whether a program that tests run the server in is not on this machine, and nobody insists that it be. */
export function lacks(program: string): boolean {
  return !existsSync(program) && process.env['SWAPLORE_NEEDS_EDITORS'] === undefined;
}
