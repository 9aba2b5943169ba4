/** The reports about a whole base, in the order pages name them. */
export const reportNames = ['overview', 'contradictions', 'findings'] as const;

/** The name of a report about a whole base. */
export type BaseReport = (typeof reportNames)[number];

/** The name of a report: one about a whole base; that of a family, which is named like its record; or the donors for a drive. */
export type ReportName = BaseReport | `family/${string}` | `donors/${string}`;

/** Whether this names a report about a whole base. */
export function isBaseReport(name: string): name is BaseReport {
  return reportNames.some((one) => one === name);
}

/** Whether this names a report; of a family or a drive that may not be recorded. */
export function isReportName(name: string): name is ReportName {
  return isBaseReport(name) || name.startsWith('family/') || name.startsWith('donors/');
}

/** The report of a family by its id. */
export function familyReport(id: string): ReportName {
  return `family/${id}`;
}

/** The family a report is about, by its id; undefined for any other report. */
export function familyIn(report: ReportName): string | undefined {
  return report.startsWith('family/') ? report.slice('family/'.length) : undefined;
}

/** The drive whose donors a report is about, by its id; undefined for any other report. */
export function patientIn(report: ReportName): string | undefined {
  return report.startsWith('donors/') ? report.slice('donors/'.length) : undefined;
}

/** What pages call each report about a whole base. */
export const reportTitles: Readonly<Record<BaseReport, string>> = {
  overview: 'Overview',
  contradictions: 'Outcomes against rules',
  findings: 'Findings',
};

/** The files of those. */
const baseFiles: Readonly<Record<BaseReport, string>> = {
  overview: 'index.html',
  contradictions: 'contradictions.html',
  findings: 'findings.html',
};

/** Longest id that stands in the name of a file: no file system takes names of 256 bytes. */
const longestId = 200;

/** The file of a report, beside those of the others; undefined where it has none, or no file may be named so. It is never more than a name. */
export function fileOfReport(report: ReportName): string | undefined {
  if (isBaseReport(report)) return baseFiles[report];
  const family = familyIn(report);
  if (family === undefined) return undefined;
  return family.length <= longestId && /^[a-z0-9-]+$/.test(family) ? `family-${family}.html` : undefined;
}
