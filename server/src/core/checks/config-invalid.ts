import type { ConfigFile } from '../index/snapshot.ts';
import type { Fault } from '../model/fault.ts';
import { nearestPhrase } from '../text/near-names.ts';
import { type Draft, defineCheck, type Spot } from './define-check.ts';
import { describeProblem } from './schema.ts';

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
  run: (config: ConfigFile) => config.reading.faults.map(toDraft),
});

function toDraft(fault: Fault): Draft {
  switch (fault.kind) {
    case 'syntax':
    case 'too-deep':
      return { at: { file: configPath, start: fault.start, end: fault.end }, message: fault.reason };
    case 'duplicate-key':
      return {
        at: { file: configPath, start: fault.start, end: fault.end },
        message: `Key \`${fault.key}\` already stands in this map, and its first value counts.`,
      };
    case 'unknown-key':
      return { at: spotOf(fault, 'key'), message: unknownSetting(fault.path, fault.near) };
    case 'schema':
      return {
        at: spotOf(fault, 'value'),
        ...describeProblem(String(fault.path.at(-1) ?? configPath), fault.problem, 'The config'),
      };
    case 'not-text':
    case 'unreadable':
      return { at: { file: configPath, start: 0, end: 0 }, message: `The config cannot be read: ${fault.reason}.` };
    case 'too-large':
      return {
        at: { file: configPath, start: 0, end: 0 },
        message: `The config has ${fault.bytes} bytes, far more than one needs.`,
      };
  }
}

function spotOf(fault: Extract<Fault, { document: number }>, side: 'key' | 'value'): Spot {
  return { file: configPath, document: fault.document, path: fault.path, side };
}

function unknownSetting(path: readonly (string | number)[], near: readonly string[]): string {
  const parent = path.at(-2);
  const place = parent === undefined ? '' : ` in \`${parent}\``;
  const nearest = nearestPhrase(near);
  return `Key \`${path.at(-1)}\` is not known${place}${nearest === undefined ? '' : `; ${nearest}`}.`;
}
