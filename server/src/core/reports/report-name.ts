import { baseReports, recordTitles } from './report-titles.ts';

/** The name of a report about a whole base. */
export type BaseReport = keyof typeof baseReports;

/** Those names, in the order pages name them. */
export const reportNames: readonly BaseReport[] = Object.keys(baseReports).filter(isBaseReport);

/** What a report about one record says of it: the first half of its name. */
export type Subject = keyof typeof recordTitles;

/** The name of a report: one about a whole base, or what it is about with the id of the record. */
export type ReportName = BaseReport | `${Subject}/${string}`;

/** Whether this names a report about a whole base. */
export function isBaseReport(name: string): name is BaseReport {
  return Object.hasOwn(baseReports, name);
}

/** Whether this names a report; its record may not be there. */
export function isReportName(name: string): name is ReportName {
  return isBaseReport(name) || (name.includes('/') && Object.hasOwn(recordTitles, subjectIn(name)));
}

/** The name of the report about a family by its id. */
export function nameOfFamily(id: string): ReportName {
  return `family/${id}`;
}

/** What a report about one record says of it, and the id of the record. */
export function subjectOf(report: Exclude<ReportName, BaseReport>): { readonly about: Subject; readonly id: string } {
  const about = subjectIn(report);
  return { about: about as Subject, id: report.slice(about.length + 1) };
}

function subjectIn(name: string): string {
  return name.slice(0, name.indexOf('/'));
}

/** Longest id that stands in the name of a file: no file system takes names of 256 bytes. */
const longestId = 200;

/** The file of a report, beside those of the others; undefined where it has none, or no file may be named so. It is never more than a name. */
export function fileOfReport(report: ReportName): string | undefined {
  if (isBaseReport(report)) return baseReports[report].file;
  const { about, id } = subjectOf(report);
  return about === 'family' && id.length <= longestId && /^[a-z0-9-]+$/.test(id) ? `family-${id}.html` : undefined;
}
