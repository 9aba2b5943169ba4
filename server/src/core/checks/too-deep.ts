import { defineCheck } from './define-check.ts';
import { describeFaults } from './fault-check.ts';

/** Text that nests, or repeats itself through aliases, beyond any use. */
export const tooDeep = defineCheck({
  check: 'too-deep',
  group: 'file',
  severity: 'error',
  scope: 'file',
  why: 'A few hundred characters of nested brackets or aliases can stand for more values than fit into memory. No record needs either.',
  examples: () => [
    {
      title: 'Lists nested 65 deep',
      files: {
        'rules/tern.yaml': `x-deep: ${'['.repeat(64)}${']'.repeat(64)}
#       ${' '.repeat(63)}^ too-deep: Maps and lists are nested more than 64 deep here.
`,
      },
    },
    {
      title: 'Nested 64 deep',
      files: {
        'makers/wren.yaml': `kind: maker\nid: wren\nname: Wren\nx-deep: ${'['.repeat(63)}${']'.repeat(63)}\n`,
      },
    },
  ],
  run: describeFaults('too-deep', (fault, file) => ({
    at: { file: file.path, start: fault.start, end: fault.end },
    message: fault.reason,
  })),
});
