import type { ReportInput } from './define-report.ts';
import type { Block } from './document.ts';
import { recordReports, reports } from './registry.ts';
import { type BaseReport, isBaseReport, type ReportName, subjectOf } from './report-name.ts';

/** A report of a base as a document; undefined where it is about a record that is not there. It begins with its title, a heading of level 1, and has no other. */
export function reportDocument(name: ReportName, input: ReportInput): readonly Block[] | undefined {
  if (isBaseReport(name)) return baseDocument(name, input);
  const { about, id } = subjectOf(name);
  return recordReports[about].document(id, input);
}

/** A report about a whole base as a document. */
export function baseDocument(name: BaseReport, input: ReportInput): readonly Block[] {
  return reports[name].document(input);
}
