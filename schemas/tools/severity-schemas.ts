import type { Check, CheckGroup } from '../../server/src/core/checks/define-check.ts';
import { type Severity, severities } from '../../server/src/core/terms/severities.ts';
import type { Schema } from './schema.ts';

const meanings: Readonly<Record<Severity | 'off', string>> = {
  error: 'the run fails; a merge should wait',
  warning: 'shown, and fails a run only where a limit on warnings is set',
  info: 'shown, and never fails a run',
  off: 'not reported at all',
};

/** The severities a base may give a check. */
export const severity: Schema = {
  title: 'Severity',
  description: 'How grave the findings of a check are.',
  enum: [...severities, 'off'],
  meanings,
  examples: ['warning'],
  refused: ['fatal', true],
};

const unchangeable: readonly CheckGroup[] = ['file', 'internal'];

/** The map from check id to severity, with every check whose severity a base may change. */
export function toSeverityTable(checks: readonly Check[]): Schema {
  const changeable = checks.filter((check) => !unchangeable.includes(check.group));
  return {
    title: 'Severities',
    description: 'Check ids, each with the severity that its findings have in this base.',
    type: 'object',
    properties: Object.fromEntries(changeable.map((check) => [check.check, toEntry(check)])),
    patternProperties: { '^x-': true },
    additionalProperties: false,
  };
}

function toEntry({ check, severity: usual, alsoSeverity, why }: Check): Schema {
  const words = check.replaceAll('-', ' ');
  const also = alsoSeverity === undefined ? '' : `, in some cases \`${alsoSeverity}\``;
  return {
    $ref: 'terms.schema.json#/$defs/severity',
    title: `${words.charAt(0).toUpperCase()}${words.slice(1)}`,
    description: why,
    where: `Its findings carry \`${check}\`; \`swaplore check-id ${check}\` shows an example.`,
    why: `Reported as \`${usual}\`${also} where the base says nothing.`,
    read_from: 'none',
    examples: ['off'],
    refused: ['fatal', true],
  };
}
