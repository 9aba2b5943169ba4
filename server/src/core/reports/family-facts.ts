import type { FamilyRecord } from '../model/record.ts';
import { type KeyRow, keyRowsIn } from '../schema/key-rows.ts';
import { isMap } from '../syntax/is-map.ts';
import type { Block } from './document.ts';

/** Keys that other parts of the page are about, or that say nothing of the drives. */
const leftOut = new Set(['kind', 'id', 'identity', 'notes', 'sources', 'photos', 'retracted']);

/** What is recorded of a family, a row for each value, named as the schema names it; nothing where nothing is. */
export function familyFacts(family: FamilyRecord): Block[] {
  const rows = keyRowsIn('family', [])
    .filter(({ name }) => !leftOut.has(name))
    .flatMap((row) => factsOf(row, (family.data as Readonly<Record<string, unknown>>)[row.name], ['family', row.name]));
  if (rows.length === 0) return [];
  return [
    {
      kind: 'table',
      caption: 'What is recorded of the family',
      columns: [
        { title: 'fact', align: 'left' },
        { title: 'recorded', align: 'left' },
      ],
      rows,
    },
  ];
}

/** Rows of a title and a value; of a map, those of the keys in it. */
function factsOf(row: KeyRow, value: unknown, path: readonly string[]): [string, string][] {
  const [kind = '', ...keys] = path;
  if (isMap(value)) {
    return keyRowsIn(kind, keys).flatMap((inner) => factsOf(inner, value[inner.name], [...path, inner.name]));
  }
  const values = [value].flat().filter((one) => one !== undefined && one !== null);
  return values.length === 0 ? [] : [[row.title, inWords(row, values)]];
}

/** What was typed, with its unit; of a fixed choice, what it means. */
function inWords({ unit, values: choices = [] }: KeyRow, values: readonly unknown[]): string {
  const words = values.map((value) => {
    const meaning = choices.find((choice) => choice.value === value)?.meaning ?? '';
    return meaning === '' ? String(value) : `\`${String(value)}\`: ${meaning}`;
  });
  return `${words.join(choices.length > 0 ? '; ' : ', ')}${unit === undefined ? '' : ` ${unit}`}`;
}
