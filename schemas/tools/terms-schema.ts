import type { Check } from '../../server/src/core/checks/define-check.ts';
import { claims } from '../../server/src/core/terms/claims.ts';
import { kinds } from '../../server/src/core/terms/kinds.ts';
import { stages } from '../../server/src/core/terms/stages.ts';
import { findComparableKeys } from './comparable-keys.ts';
import { toConditionSchemas } from './condition-schemas.ts';
import { generatedNote } from './generated-note.ts';
import { madeRange, numberRange } from './range-schemas.ts';
import type { Schema, SchemaSet } from './schema.ts';
import { severity, toSeverityTable } from './severity-schemas.ts';
import { textValue } from './value-schema.ts';

/** `$id` of the generated schema. */
export const termsId = 'terms.schema.json';

/** The schema of the words that tables in the code and marks in other schemas define. */
export function toTermsSchema(set: SchemaSet, checks: readonly Check[]): Schema {
  const comparable = findComparableKeys(set);
  const kindTerms = kinds.map((name) => ({ name, meaning: set.get(`${name}.schema.json`)?.title ?? name }));
  const keyTerms = comparable.map(({ name, schema }) => ({ name, meaning: schema.description ?? name }));
  return {
    $comment: generatedNote,
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    $id: termsId,
    title: 'Terms',
    description: 'Words and maps derived from the tables in the code and from the other schemas.',
    $defs: {
      stage: toChoice('Stage', 'How far an assembly came, lowest first.', stages),
      workingStage: toChoice('Stage', 'A stage that can count as working.', stages.slice(1)),
      claim: toChoice('Claim', 'What a rule says about the swaps that meet its condition.', claims),
      kind: toChoice('Record kind', 'What a record describes.', kindTerms),
      severity,
      severityTable: toSeverityTable(checks),
      comparableKey: toChoice('Comparable key', 'A key in which the two drives of a swap can agree.', keyTerms),
      textValue,
      numberRange,
      madeRange,
      ...toConditionSchemas(set, comparable),
    },
  };
}

function toChoice(
  title: string,
  description: string,
  terms: readonly { readonly name: string; readonly meaning: string }[],
): Schema {
  const names = terms.map((term) => term.name);
  return {
    title,
    description,
    enum: names,
    meanings: Object.fromEntries(terms.map((term) => [term.name, term.meaning])),
    examples: names.slice(0, 1),
    refused: ['something', true],
  };
}
