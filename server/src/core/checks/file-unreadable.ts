import { defineCheck } from './define-check.ts';
import { describeFaults } from './fault-check.ts';

/** A file that belongs to the base and cannot be opened. */
export const fileUnreadable = defineCheck({
  check: 'file-unreadable',
  group: 'file',
  severity: 'error',
  scope: 'file',
  why: 'What cannot be opened cannot be checked, and a result that silently leaves records out is worse than none. While such a file is there, nothing is said to be missing from the base.',
  examples: () => [
    {
      title: 'No permission; the family that may stand in that file is not called missing',
      files: {
        'families/tern.yaml': { unreadable: 'permission denied' },
        'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\n',
      },
      wholeFile: ['families/tern.yaml: file-unreadable: The file cannot be read: permission denied.'],
    },
    {
      title: 'An empty file holds no records and is no fault',
      files: { 'families/tern.yaml': '' },
    },
  ],
  run: describeFaults('unreadable', (fault, file) => ({
    at: { file: file.path, start: 0, end: 0 },
    message: `The file cannot be read: ${fault.reason}.`,
  })),
});
