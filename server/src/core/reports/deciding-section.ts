import type { OpenCase } from '../reasoning/deciding.ts';
import type { WantedKey } from '../reasoning/wanted-keys.ts';
import { addTo, grouped } from '../terms/grouped.ts';
import type { Block } from './document.ts';

/** Sets of keys the text lists; the data has every case. */
const mostSets = 10;

/** Rules and outcomes that are spelt out for one set. */
const mostCases = 4;

/** What to look up or to try, most useful first; nothing where nothing would decide anything. */
export function decidingSection(cases: readonly OpenCase[]): Block[] {
  if (cases.length === 0) return [];
  const sets = setsOf(cases);
  const left = sets.slice(mostSets).reduce((sum, set) => sum + set.length, 0);
  const isOne = left === 1;
  const more: Block = {
    kind: 'paragraph',
    text: `${left} more ${isOne ? 'case' : 'cases'} could be decided; \`swaplore contradictions --json\` lists ${isOne ? 'it' : 'them'}.`,
  };
  return [
    { kind: 'heading', level: 2, text: 'What would decide it' },
    { kind: 'items', items: sets.slice(0, mostSets).map(toItem) },
    ...(left > 0 ? [more] : []),
  ];
}

/** Cases that ask for the same keys, together; in the order of their first ones. At least one in each. */
function setsOf(cases: readonly OpenCase[]): OpenCase[][] {
  const namedKeys = ({ keys }: OpenCase): string =>
    JSON.stringify(keys.map(({ record, rev, key }) => [record, rev, key]));
  return [...grouped(cases, namedKeys).values()];
}

function toItem(cases: readonly OpenCase[]): { readonly name: string; readonly lines: readonly string[] } {
  const keys = cases[0]?.keys ?? [];
  const shown = cases.slice(0, mostCases).map(({ rule, outcome }) => `\`${rule.record.id}\` by \`${outcome.id}\``);
  const left = cases.length - shown.length;
  const places = new Map(keys.map(({ key, row }) => [key, row?.where]));
  return {
    name: namesOf(keys),
    lines: [
      `Decides ${shown.join(', ')}${left > 0 ? ` and ${left} more` : ''}.`,
      ...[...places].flatMap(([key, where]) => (where === undefined ? [] : [`\`${key}\`: ${where}`])),
    ],
  };
}

/** The keys, record by record: "drive/d-1: `site`, `firmware`; drive/d-2: `site`". */
function namesOf(keys: readonly WantedKey[]): string {
  const byRecord = new Map<string, string[]>();
  for (const { record, rev, key } of keys) {
    const name = rev === undefined ? record : `${record} revision \`${rev}\``;
    addTo(byRecord, name, `\`${key}\``);
  }
  return [...byRecord].map(([name, list]) => `${name}: ${list.join(', ')}`).join('; ');
}
