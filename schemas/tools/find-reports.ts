import type { Report } from '../../server/src/core/reports/define-report.ts';
import { type DefiningModule, findModules, loadExport } from './find-modules.ts';

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
  const reports = await Promise.all(modules.map((module) => loadReport(folder, module)));
  if (reports.filter(({ report }) => report.isIndex).length > 1) throw new Error('Two reports are the index.');
  return reports.sort((a, b) => Number(b.report.isIndex ?? false) - Number(a.report.isIndex ?? false));
}

async function loadReport(folder: string, module: DefiningModule): Promise<FoundReport> {
  const report = await loadExport(folder, module);
  if (!isReport(report)) throw new Error(`${module.file} does not export the report \`${module.name}\`.`);
  if (module.file !== `${report.name}-report.ts` || /^(index$|family-)/.test(report.name))
    throw new Error(`${module.file} defines a report named \`${report.name}\`, which is no name for it.`);
  return { ...module, report };
}

function isReport(value: unknown): value is Report {
  return typeof value === 'object' && value !== null && 'name' in value && 'title' in value && 'document' in value;
}
