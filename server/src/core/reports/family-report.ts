import { defineRecordReport } from './define-report.ts';
import { familyDocument } from './family.ts';

/** What a base knows of a family. */
export const familyReport = defineRecordReport({
  name: 'family',
  titleBefore: '',
  document: (id, { snapshot }) => {
    const family = snapshot.find('family', id);
    return family && familyDocument(family, snapshot);
  },
});
