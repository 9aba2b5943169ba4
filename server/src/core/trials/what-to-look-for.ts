/**
 * What a pair would have to be like to tell two explanations apart, where no pair of the shelf does.
 * Laws (test/property/what-to-look-for.property.test.ts):
 * - of any swap like that the two explanations say the opposite
 */
import type { ConditionData } from '../../../../schemas/gen/records.ts';
import { revisionKeys } from '../conditions/cell.ts';
import type { Atom, Formula } from '../conditions/formula.ts';
import type { Claim } from '../explanations/claims-of.ts';
import { conditionOf, type Entry } from '../explanations/entry.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { toRule } from '../reasoning/rule.ts';
import { compareRules } from '../reasoning/rule-relations.ts';
import { drained } from '../terms/drained.ts';
import { remembered } from '../terms/remembered.ts';

/** A pair of drives and what is done about the ROM, by what holds of them. */
export type Wanted = readonly Entry[];

/**
 * What tells two explanations apart, that which asks for most keys to be alike first; undefined where no swap does that recorded
 * revisions and families allow.
 */
export function whatToLookFor(a: Claim, b: Claim, snapshot: Snapshot): Wanted | undefined {
  const atoms = [
    ...new Map([...atomsIn(a.formula), ...atomsIn(b.formula)].map((atom) => [JSON.stringify(atom), atom])),
  ];
  const choices = Array.from({ length: 2 ** atoms.length }, (_, bits) =>
    atoms.map(([, atom], n): Entry => ({ atom, wanted: (bits & (1 << (atoms.length - 1 - n))) === 0 })),
  );
  const telling = choices.filter((entries) => foretells(a, entries) !== foretells(b, entries));
  const alike = (entries: Wanted): number =>
    entries.filter(({ atom, wanted }) => atom.test === 'same' && wanted).length;
  return telling.sort((one, other) => alike(other) - alike(one)).find((entries) => isPossible(entries, snapshot));
}

/** The atoms of a claim; claims have no others than entries have. */
function atomsIn(formula: Formula): readonly Entry['atom'][] {
  if (formula.op === 'atom') return isOfEntry(formula.atom) ? [formula.atom] : [];
  return formula.op === 'not' ? atomsIn(formula.part) : formula.parts.flatMap(atomsIn);
}

function isOfEntry(atom: Atom): atom is Entry['atom'] {
  return atom.test === 'same' || atom.test === 'rom_travels' || atom.test === 'side';
}

/** Whether a swap of which these entries hold works, by a claim. */
function foretells({ formula, holds }: Claim, entries: Wanted): boolean {
  return meets(formula, entries) === (holds === 'works');
}

function meets(formula: Formula, entries: Wanted): boolean {
  switch (formula.op) {
    case 'all':
      return formula.parts.every((part) => meets(part, entries));
    case 'any':
      return formula.parts.some((part) => meets(part, entries));
    case 'not':
      return !meets(formula.part, entries);
    case 'atom': {
      const name = JSON.stringify(formula.atom);
      return entries.some(({ atom, wanted }) => wanted && JSON.stringify(atom) === name);
    }
  }
}

/** Keys that records of boards bind to each other; any others, and the ROM, may go together as they like. */
const bound: ReadonlySet<string> = new Set(['family', 'board', 'rev', ...revisionKeys]);

/** Whether there could be such a swap: a revision has its parts, for one. */
function isPossible(entries: Wanted, snapshot: Snapshot): boolean {
  if (!entries.some(({ atom }) => 'key' in atom && bound.has(atom.key))) return true;
  const known = answersIn(snapshot);
  const name = JSON.stringify(entries);
  const answer = known.get(name) ?? isMet(entries, snapshot);
  known.set(name, answer);
  return answer;
}

/** The answers so far: the same few comparisons are asked for in family after family. */
const answersIn = remembered((_: Snapshot) => new Map<string, boolean>());

function isMet(entries: Wanted, snapshot: Snapshot): boolean {
  const parts = entries.map((entry): ConditionData => {
    const isUnlike = entry.atom.test === 'side' && !entry.wanted;
    return isUnlike ? { none: [conditionOf([{ ...entry, wanted: true }])] } : conditionOf([entry]);
  });
  const rule = toRule(
    { kind: 'rule', id: '', data: { claim: 'enough', when: { all: parts } }, unusable: [] },
    snapshot.config.worksAt,
  );
  return rule !== undefined && drained(compareRules([rule], snapshot)).impossible.length === 0;
}
