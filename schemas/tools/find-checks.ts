import type { Check } from '../../server/src/core/checks/define-check.ts';
import { type DefiningModule, findModules, loadExport } from './find-modules.ts';

/** The modules of a folder that define a check, by file name; empty where there is no such folder. */
export function findCheckModules(folder: string): readonly DefiningModule[] {
  return findModules(folder, 'defineCheck');
}

/** The checks that the modules define, in the same order. Throws where a module lacks its export. */
export async function loadChecks(folder: string, modules: readonly DefiningModule[]): Promise<readonly Check[]> {
  return Promise.all(modules.map((module) => loadCheck(folder, module)));
}

async function loadCheck(folder: string, module: DefiningModule): Promise<Check> {
  const check = await loadExport(folder, module);
  if (!isCheck(check)) throw new Error(`${module.file} does not export the check \`${module.name}\`.`);
  return check;
}

function isCheck(value: unknown): value is Check {
  return typeof value === 'object' && value !== null && 'check' in value && 'group' in value && 'examples' in value;
}
