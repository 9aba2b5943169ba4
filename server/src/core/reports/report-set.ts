import type { Finding } from '../checks/finding.ts';
import { internalCheckFailed } from '../checks/internal-check-failed.ts';
import { rankDonors } from '../donors/rank-donors.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { nextTrial } from '../trials/next-trial.ts';
import { collectContradictions, contradictionsDocument, reportedChecks } from './contradictions.ts';
import type { Block } from './document.ts';
import { donorSheet, mostDonors } from './donor-sheet.ts';
import { familyDocument } from './family.ts';
import { findingsDocument } from './findings-document.ts';
import { nextTrialDocument } from './next-trial.ts';
import { overviewDocument } from './overview.ts';
import { type BaseReport, isBaseReport, type ReportName, subjectOf } from './report-name.ts';

/** What reports of a base are made from. */
export interface ReportInput {
  readonly snapshot: Snapshot;
  /** What all checks have found, by file, place in the file, check and message. */
  readonly findings: readonly Finding[];
  /** What to call the base. */
  readonly baseName: string;
}

/**
 * A report of a base as a document; undefined where it is about a family or a drive that is not recorded. It begins with its title, a heading of
 * level 1, and has no other.
 */
export function reportDocument(name: ReportName, input: ReportInput): readonly Block[] | undefined {
  if (isBaseReport(name)) return baseDocument(name, input);
  const { snapshot, baseName } = input;
  const { about, id } = subjectOf(name);
  switch (about) {
    case 'family': {
      const family = snapshot.find('family', id);
      return family && familyDocument(family, snapshot);
    }
    case 'donors': {
      const ranking = rankDonors(id, snapshot);
      return ranking && donorSheet(ranking, { snapshot, baseName, mostDonors });
    }
    case 'plan':
      return snapshot.find('family', id) && nextTrialDocument(nextTrial(id, snapshot), snapshot);
  }
}

/** A report about a whole base as a document. */
export function baseDocument(name: BaseReport, { snapshot, findings, baseName }: ReportInput): readonly Block[] {
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
