import { defineCheck } from './define-check.ts';
import { describeFaults } from './fault-check.ts';

/** One key twice in one map. */
export const duplicateKey = defineCheck({
  check: 'duplicate-key',
  group: 'structure',
  severity: 'error',
  scope: 'file',
  why: 'Programs disagree on which of the two values counts. Here it is the first; the person who wrote the second believes otherwise.',
  examples: () => [
    {
      title: 'The name given twice',
      files: {
        'makers/wren.yaml': `kind: maker
id: wren
name: Wren
name: Wren Storage
#<^^ duplicate-key: Key \`name\` already stands in this map, and its first value counts.
`,
      },
    },
    {
      title: 'The same key in two maps',
      files: {
        'makers/wren.yaml':
          'kind: maker\nid: wren\nname: Wren\nsources:\n  - title: Price list\n  - title: Service bulletin\n',
      },
    },
  ],
  run: describeFaults('duplicate-key', (fault, file) => ({
    at: { file: file.path, start: fault.start, end: fault.end },
    message: `Key \`${fault.key}\` already stands in this map, and its first value counts.`,
    help: 'Keep one of the two.',
    related: [{ at: { file: file.path, start: fault.firstStart, end: fault.firstEnd }, message: 'The first one.' }],
  })),
});
