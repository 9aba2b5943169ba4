import { defineCheck } from './define-check.ts';
import { describeFaults } from './fault-check.ts';

/** Text that is not YAML. */
export const yamlSyntax = defineCheck({
  check: 'yaml-syntax',
  group: 'file',
  severity: 'error',
  scope: 'file',
  why: 'A document that cannot be read counts nowhere: its outcome is missing from the odds and its rule warns nobody. Other documents and files are still checked, and references to the ids of a broken document are left in peace.',
  examples: () => [
    {
      title: 'A second colon on one line',
      files: {
        'makers/wren.yaml': `kind: maker
id: wren
name: Wren: Drives
#     ^ yaml-syntax: A second \`:\` makes a map inside a value here; a text that contains \`: \` has to be quoted, a nested map belongs on its own lines.
`,
      },
    },
    {
      title: 'An alias without an anchor',
      files: {
        'makers/wren.yaml': `kind: maker
id: wren
name: *full
#     ^^^^^ yaml-syntax: The alias \`*full\` has no anchor \`&full\` before it.
`,
      },
    },
    {
      title: 'Quoted, the colon is text',
      files: { 'makers/wren.yaml': 'kind: maker\nid: wren\nname: "Wren: Drives"\n' },
    },
  ],
  run: describeFaults('syntax', (fault, file) => ({
    at: { file: file.path, start: fault.start, end: fault.end },
    message: fault.reason,
  })),
});
