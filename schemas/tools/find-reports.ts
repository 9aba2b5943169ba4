import type { RecordReport, Report } from '../../server/src/core/reports/define-report.ts';
import { type DefiningModule, findModules, loadExport } from './find-modules.ts';

/** A report with the module that defines it. */
export interface FoundReport<Defined> extends DefiningModule {
  readonly report: Defined;
}

/** The reports that modules of a folder define. */
export interface FoundReports {
  /** Those about a whole base: the index, then by name. */
  readonly ofBase: readonly FoundReport<Report>[];
  /** Those about one record, by name. */
  readonly ofRecord: readonly FoundReport<RecordReport>[];
}

/**
 * Every report that modules of a folder define. Throws where a module lacks its export or is not named for its report, and where two
 * are the index: no two pages may have one name, nor any that of a family.
 */
export async function findReports(folder: string): Promise<FoundReports> {
  const ofBase = await loadReports<Report>(folder, 'defineReport');
  if (ofBase.filter(({ report }) => report.isIndex).length > 1) throw new Error('Two reports are the index.');
  return {
    ofBase: ofBase.sort((a, b) => Number(b.report.isIndex ?? false) - Number(a.report.isIndex ?? false)),
    ofRecord: await loadReports<RecordReport>(folder, 'defineRecordReport'),
  };
}

function loadReports<Defined extends Report | RecordReport>(
  folder: string,
  define: string,
): Promise<FoundReport<Defined>[]> {
  return Promise.all(
    findModules(folder, define).map(async (module) => {
      const report = await loadExport(folder, module);
      if (!isReport(report)) throw new Error(`${module.file} does not export the report \`${module.name}\`.`);
      if (module.file !== `${report.name}-report.ts` || /^(index$|family-)/.test(report.name))
        throw new Error(`${module.file} defines a report named \`${report.name}\`, which is no name for it.`);
      return { ...module, report: report as Defined };
    }),
  );
}

function isReport(value: unknown): value is Report | RecordReport {
  return typeof value === 'object' && value !== null && 'name' in value && 'document' in value;
}
