import type { Check } from '../../server/src/core/checks/define-check.ts';
import { type DefiningModule, findModules, loadExports } from './find-modules.ts';

/** The modules of a folder that define a check, by file name; empty where there is no such folder. */
export function findCheckModules(folder: string): readonly DefiningModule[] {
  return findModules(folder, 'defineCheck');
}

/** The checks that the modules define, in the same order. Throws where a module lacks its export. */
export async function loadChecks(folder: string, modules: readonly DefiningModule[]): Promise<readonly Check[]> {
  const found = await loadExports(folder, modules);
  return modules.map(({ file, name }, position) => {
    const check = found[position];
    if (!isCheck(check)) throw new Error(`${file} does not export the check \`${name}\`.`);
    return check;
  });
}

function isCheck(value: unknown): value is Check {
  return typeof value === 'object' && value !== null && 'check' in value && 'group' in value && 'examples' in value;
}
