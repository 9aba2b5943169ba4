import type { OpenCase, Wanted } from '../reasoning/deciding.ts';
import type { WantedKey } from '../reasoning/wanted-keys.ts';
import type { Block } from './document.ts';

/** Keys the text lists; the data has them all. */
const mostKeys = 10;

/** Rules and outcomes that are spelt out for one key. */
const mostCases = 4;

/** What to look up or to try, most useful first; nothing where nothing would decide anything. */
export function decidingSection(wanted: readonly Wanted[]): Block[] {
  if (wanted.length === 0) return [];
  const left = wanted.length - mostKeys;
  const more: Block[] =
    left > 0
      ? [
          {
            kind: 'paragraph',
            text: `${left} more ${left === 1 ? 'key' : 'keys'} would help; \`swaplore contradictions --json\` lists every case.`,
          },
        ]
      : [];
  return [
    { kind: 'heading', level: 2, text: 'What would decide it' },
    { kind: 'items', items: wanted.slice(0, mostKeys).map(toItem) },
    ...more,
  ];
}

function toItem({ key, cases }: Wanted): { readonly name: string; readonly lines: readonly string[] } {
  const count = `${cases.length} ${cases.length === 1 ? 'case' : 'cases'}`;
  const others = othersIn(cases, key);
  return {
    name: `${nameOf(key)}: ${count}`,
    lines: [
      ...(key.row === undefined ? [] : [key.row.where]),
      `Decides ${casesText(cases)}.`,
      ...(others.length === 0 ? [] : [`Wanted with it: ${others.join(', ')}.`]),
    ],
  };
}

function casesText(cases: readonly OpenCase[]): string {
  const shown = cases.slice(0, mostCases).map(({ rule, outcome }) => `\`${rule.record.id}\` by \`${outcome.id}\``);
  const left = cases.length - shown.length;
  return left > 0 ? `${shown.join(', ')} and ${left} more` : shown.join(', ');
}

/** The other keys without which this one decides nothing in some case. */
function othersIn(cases: readonly OpenCase[], key: WantedKey): string[] {
  const names = cases.flatMap((one) => one.keys.map(nameOf)).filter((name) => name !== nameOf(key));
  const [...distinct] = new Set(names);
  const shown = distinct.slice(0, mostCases);
  return distinct.length > shown.length ? [...shown, `${distinct.length - shown.length} more`] : shown;
}

function nameOf({ record, rev, key }: WantedKey): string {
  return rev === undefined ? `\`${key}\` of ${record}` : `\`${key}\` of ${record} under revision \`${rev}\``;
}
