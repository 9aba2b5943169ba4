import type { Report } from '../../server/src/core/reports/define-report.ts';
import { type DefiningModule, findModules, loadExports } from './find-modules.ts';

/** A report with the module that defines it. */
export interface FoundReport extends DefiningModule {
  readonly report: Report;
}

/**
 * The reports about a whole base that modules of a folder define: the index, then by name. Throws where a module lacks its export or is
 * not named for its report, and where two are the index: no two pages may have one name, nor any that of a family.
 */
export async function findReports(folder: string): Promise<readonly FoundReport[]> {
  const modules = findModules(folder, 'defineReport');
  const found = await loadExports(folder, modules);
  const reports = modules.map((module, position) => {
    const report = found[position];
    if (!isReport(report)) throw new Error(`${module.file} does not export the report \`${module.name}\`.`);
    if (module.file !== `${report.name}-report.ts` || /^(index$|family-)/.test(report.name))
      throw new Error(`${module.file} defines a report named \`${report.name}\`, which is no name for it.`);
    return { ...module, report };
  });
  if (reports.filter(({ report }) => report.isIndex).length > 1) throw new Error('Two reports are the index.');
  return reports.sort((a, b) => Number(b.report.isIndex ?? false) - Number(a.report.isIndex ?? false));
}

function isReport(value: unknown): value is Report {
  return typeof value === 'object' && value !== null && 'name' in value && 'title' in value && 'document' in value;
}
