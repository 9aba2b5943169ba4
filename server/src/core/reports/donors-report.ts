import { rankDonors } from '../donors/rank-donors.ts';
import { defineRecordReport } from './define-report.ts';
import { donorSheet, mostDonors } from './donor-sheet.ts';

/** The boards of the shelf for a drive. */
export const donorsReport = defineRecordReport({
  name: 'donors',
  titleBefore: 'donors for ',
  document: (id, { snapshot, baseName }) => {
    const ranking = rankDonors(id, snapshot);
    return ranking && donorSheet(ranking, { snapshot, baseName, mostDonors });
  },
});
