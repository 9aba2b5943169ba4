import type { ConfigFile } from '../index/snapshot.ts';
import { defineCheck } from './define-check.ts';
import { describeFault } from './describe-fault.ts';

/** Path of the settings of a base, relative to it. */
export const configPath = 'swaplore.yaml';

/** A fault in the settings of a base. */
export const configInvalid = defineCheck({
  check: 'config-invalid',
  group: 'file',
  severity: 'error',
  scope: 'config',
  why: 'A setting that is not understood falls back to its default, so a check the shop believes to be on may be off, and the other way round. Without a readable format version nothing is checked at all.',
  examples: () => [
    {
      title: 'A check id that does not exist',
      files: {
        'swaplore.yaml': `swaplore: 1
severity: {dangling-refrence: warning}
#          ^^^^^^^^^^^^^^^^^ config-invalid: Key \`dangling-refrence\` is not known in \`severity\`; the nearest is \`dangling-reference\`.
`,
      },
    },
    {
      title: 'A share above one',
      files: {
        'swaplore.yaml': `swaplore: 1
verified_share: 2
#               ^ config-invalid: \`verified_share\` cannot be \`2\`; a number of at most 1 is needed.
`,
      },
    },
    {
      title: 'A severity that differs from the default',
      files: { 'swaplore.yaml': 'swaplore: 1\nseverity: {dangling-reference: warning}\n' },
    },
  ],
  run: (config: ConfigFile) => config.reading.faults.map((fault) => describeFault(fault, configPath, 'config')),
});
