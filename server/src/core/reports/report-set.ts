import type { Finding } from '../checks/finding.ts';
import { internalCheckFailed } from '../checks/internal-check-failed.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { collectContradictions, contradictionsDocument, reportedChecks } from './contradictions.ts';
import type { Block } from './document.ts';
import { findingsDocument } from './findings-document.ts';
import { overviewDocument } from './overview.ts';

/** The reports there are pages of, in the order pages name them. */
export const reportNames = ['overview', 'contradictions', 'findings'] as const;

/** The name of a report. */
export type ReportName = (typeof reportNames)[number];

/** What pages call each report. */
export const reportTitles: Readonly<Record<ReportName, string>> = {
  overview: 'Overview',
  contradictions: 'Outcomes against rules',
  findings: 'Findings',
};

/** What reports of a base are made from. */
export interface ReportInput {
  readonly snapshot: Snapshot;
  /** What all checks have found, by file, place in the file, check and message. */
  readonly findings: readonly Finding[];
  /** What to call the base. */
  readonly baseName: string;
}

/** A report of a base as a document. It begins with its title, a heading of level 1, and has no other. */
export function reportDocument(name: ReportName, { snapshot, findings, baseName }: ReportInput): readonly Block[] {
  switch (name) {
    case 'overview':
      return overviewDocument(snapshot, findings, baseName);
    case 'contradictions':
      return contradictionsDocument(collectContradictions(snapshot), findings.filter(isReported), baseName);
    case 'findings':
      return findingsDocument(findings, baseName);
  }
}

/** Crashes of our own are told wherever findings may be missing for them. */
function isReported({ check }: Finding): boolean {
  return [...reportedChecks, internalCheckFailed].some((one) => one.check === check);
}
