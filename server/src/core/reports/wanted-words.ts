import type { SideName } from '../conditions/formula.ts';
import { inARow } from '../text/in-a-row.ts';
import type { Wanted } from '../trials/what-to-look-for.ts';

/** A pair somebody can look for: "two drives with the same `rev` and a different `site`". */
export function wantedWords(wanted: Wanted): string {
  const keys = (isSame: boolean): string[] =>
    wanted.flatMap(({ atom, wanted: holds }) => (atom.test === 'same' && holds === isSame ? atom.key : []));
  const [same, different] = [keys(true), keys(false)];
  const alike = [
    ...(same.length > 0 ? [`the same ${inARow(same)}`] : []),
    ...(different.length > 0 ? [`a different ${inARow(different)}`] : []),
  ];
  const sides = (['patient', 'donor'] as const).flatMap((side) => sideWords(side, wanted));
  const rom = wanted.find(({ atom }) => atom.test === 'rom_travels');
  const words = [...(alike.length > 0 ? [`two drives with ${alike.join(' and ')}`] : []), ...sides].join(', ');
  const romWords = rom ? (rom.wanted ? "the patient's ROM moved along" : "the donor's ROM left in place") : undefined;
  if (words === '') return `any two drives, with ${romWords}`;
  return romWords === undefined ? words : `${words}, and swap them with ${romWords}`;
}

/** What one side must hold, key by key: "a donor whose `rev` is `k-10/B`". */
function sideWords(side: SideName, wanted: Wanted): string[] {
  const byKey = new Map<string, { is: string[]; isNot: string[] }>();
  for (const { atom, wanted: holds } of wanted) {
    if (atom.test !== 'side' || atom.side !== side || !('anyOf' in atom.accepts)) continue;
    const values = byKey.get(atom.key) ?? { is: [], isNot: [] };
    byKey.set(atom.key, values);
    (holds ? values.is : values.isNot).push(...atom.accepts.anyOf.map(String));
  }
  return [...byKey].map(([key, { is, isNot }]) => {
    // Of one key a side has one value, so that whatever it must not be is said already.
    if (is.length > 0) return `a ${side} whose \`${key}\` is ${inARow(is)}`;
    const [first = '', ...others] = isNot.map((value) => `\`${value}\``);
    return `a ${side} whose \`${key}\` is ${others.length === 0 ? `not ${first}` : `neither ${first} nor ${others.join(' nor ')}`}`;
  });
}
