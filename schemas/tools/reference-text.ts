import { stringify } from 'yaml';
import { readFromWords } from '../../server/src/core/schema/read-from-words.ts';
import type { KeyRow, RowType } from './key-rows.ts';
import type { Json } from './schema.ts';

const typeWords: Readonly<Record<RowType, readonly [one: string, many: string]>> = {
  text: ['text', 'texts'],
  integer: ['whole number', 'whole numbers'],
  number: ['number', 'numbers'],
  boolean: ['`true` or `false`', '`true` or `false`'],
  map: ['map', 'maps'],
  mixed: ['one of several forms', 'values of several forms'],
};

/** A key on the reference page, headed by its path within the section; `keys` says where the keys of its map stand. */
export interface ReferenceEntry {
  readonly row: KeyRow;
  readonly path: string;
  readonly keys?: string;
}

/** The Markdown of an entry; `earlier` names the key that was explained in the same words before. */
export function toReferenceText({ row, path, keys }: ReferenceEntry, earlier?: string): string {
  const examples = row.examples.map((example) => `\`${toYaml(example)}\``).join(' · ');
  const items = [
    ...(earlier === undefined ? listWords(row) : []),
    ...(row.expected ? [`- Form: ${row.expected.replace(/,$/, '')}.`] : []),
    ...(earlier === undefined ? listValues(row) : []),
    `- ${row.examples.length > 1 ? 'Examples' : 'Example'}: ${examples}`,
    ...(keys ? [`- Keys: ${keys}.`] : []),
  ];
  const text = earlier === undefined ? row.description : `As ${earlier}.`;
  return [`### ${path}`, `*${row.title}* (${listFacts(row).join(', ')}). ${text}`, items.join('\n')].join('\n\n');
}

function listFacts(row: KeyRow): readonly string[] {
  return [toTypeWords(row), ...(row.unit ? [`in ${row.unit}`] : []), ...(row.required ? ['**required**'] : [])];
}

function listWords({ where, why, readFrom, refersTo, comparableAs }: KeyRow): readonly string[] {
  const source = readFromWords[readFrom];
  return [
    `- Where: ${where}`,
    `- Why: ${why}`,
    ...(source ? [`- Read from: ${source}.`] : []),
    ...(refersTo ? [`- Names: a record of kind \`${refersTo}\`.`] : []),
    ...(comparableAs ? [`- Compared in conditions as \`${comparableAs}\`.`] : []),
  ];
}

function toTypeWords({ type, list, values }: KeyRow): string {
  if (values?.length === 1 && list === 'no') return `always \`${values[0]?.value}\``;
  const isChoice = values !== undefined && type !== 'mixed';
  const [one, many] = isChoice ? (['a fixed choice', 'values of a fixed choice'] as const) : typeWords[type];
  if (list === 'no') return one;
  return list === 'yes' ? `list of ${many}` : `${one}, or a list`;
}

function listValues({ values }: KeyRow): readonly string[] {
  if (values === undefined || values.length === 1) return [];
  const lines = values.map(({ value, meaning }) => `  - \`${value}\`${meaning ? `: ${meaning}` : ''}`);
  return ['- Values:', ...lines];
}

/** A value on one line of YAML. */
function toYaml(value: Json): string {
  return stringify(value, { collectionStyle: 'flow', lineWidth: 0, flowCollectionPadding: false }).trim();
}
