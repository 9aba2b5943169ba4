import { rankDonors } from '../donors/rank-donors.ts';
import { nextTrial } from '../trials/next-trial.ts';
import type { ReportInput } from './define-report.ts';
import type { Block } from './document.ts';
import { donorSheet, mostDonors } from './donor-sheet.ts';
import { familyDocument } from './family.ts';
import { nextTrialDocument } from './next-trial.ts';
import { reports } from './registry.ts';
import { type BaseReport, isBaseReport, type ReportName, subjectOf } from './report-name.ts';

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
export function baseDocument(name: BaseReport, input: ReportInput): readonly Block[] {
  return reports[name].document(input);
}
