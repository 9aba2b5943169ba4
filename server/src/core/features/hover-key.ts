import type { KeyRow } from '../schema/key-rows.ts';
import { readFromWords } from '../schema/read-from-words.ts';
import { type HoverBlock, type HoverFact, joined, type Phrase, phrase } from './hover-blocks.ts';

/** What the schema says of a key. */
export function keyBlocks(row: KeyRow): readonly HoverBlock[] {
  const facts = factsOf(row);
  return [
    { kind: 'title', name: row.title, typed: row.name, note: row.required ? 'required' : undefined },
    { kind: 'paragraph', text: [row.description] },
    ...(facts.length > 0 ? [{ kind: 'facts', facts } as const] : []),
  ];
}

function factsOf(row: KeyRow): readonly HoverFact[] {
  const { where, why, readFrom, unit, expected, refersTo, values = [] } = row;
  const source = readFromWords[readFrom];
  const words = (label: string, text: string | undefined): HoverFact[] =>
    text === undefined || text === '' ? [] : [{ label, text: [text] }];
  return [
    ...words('Where', where),
    ...words('Why', why),
    ...words('Read from', source),
    ...words('Unit', unit),
    ...words('Form', expected?.replace(/,$/, '')),
    ...words('Names', refersTo && `a record of kind \`${refersTo}\``),
    ...(values.length > 1 ? [{ label: 'Values', text: joined(values.map(({ value }) => phrase`${value}`)) }] : []),
    ...(values.length > 0 ? [] : examplesOf(row)),
  ];
}

/** Examples, where they are short: a map says more in the file than in a line. */
function examplesOf({ examples }: KeyRow): readonly HoverFact[] {
  const shown: readonly Phrase[] = examples.flatMap((example) => {
    const text = flowText(example);
    return text === undefined ? [] : [phrase`${text}`];
  });
  if (shown.length === 0) return [];
  return [{ label: shown.length === 1 ? 'Example' : 'Examples', text: joined(shown) }];
}

/** A value, or a list of values, as typed on one line; undefined for maps. */
function flowText(value: unknown): string | undefined {
  if (typeof value !== 'object') return String(value);
  if (!Array.isArray(value) || value.some((item) => typeof item === 'object')) return undefined;
  return `[${value.join(', ')}]`;
}
