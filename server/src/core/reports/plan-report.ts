import { nextTrial } from '../trials/next-trial.ts';
import { defineRecordReport } from './define-report.ts';
import { nextTrialDocument } from './next-trial.ts';

/** What to try next for a family. */
export const planReport = defineRecordReport({
  name: 'plan',
  titleBefore: 'the next trial: ',
  document: (id, { snapshot }) => snapshot.find('family', id) && nextTrialDocument(nextTrial(id, snapshot), snapshot),
});
