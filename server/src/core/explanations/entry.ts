import type { ConditionData } from '../../../../schemas/gen/records.ts';
import type { Atom } from '../conditions/formula.ts';

/** An entry of a condition: an atom that has to hold, or not to. One about a value always has to, where a condition is written. */
export interface Entry {
  readonly atom: Extract<Atom, { test: 'same' | 'rom_travels' | 'side' }>;
  readonly wanted: boolean;
}

/** The condition that asks for all of these, as rules write it. */
export function conditionOf(entries: readonly Entry[]): ConditionData {
  const keysThat = (wanted: boolean) =>
    entries.flatMap((entry) => (entry.atom.test === 'same' && entry.wanted === wanted ? entry.atom.key : []));
  const [same, different] = [keysThat(true), keysThat(false)];
  const rom = entries.find(({ atom }) => atom.test === 'rom_travels');
  const sides = (['patient', 'donor'] as const).map((side) => [side, valuesOn(side, entries)] as const);
  return {
    ...(rom ? { rom_travels: rom.wanted } : {}),
    ...(same.length > 0 ? { same } : {}),
    ...(different.length > 0 ? { different } : {}),
    ...Object.fromEntries(sides.filter(([, values]) => Object.keys(values).length > 0)),
  };
}

function valuesOn(side: 'patient' | 'donor', entries: readonly Entry[]): object {
  const values = entries.flatMap(({ atom }) =>
    atom.test === 'side' && atom.side === side && 'anyOf' in atom.accepts ? [[atom.key, atom.accepts.anyOf[0]]] : [],
  );
  return Object.fromEntries(values);
}
