/**
 * Pairs that can be met whatever all others demand, because they speak of an unknown that nothing else speaks of. They take part in no
 * contradiction; and once they are taken away, others may be loose in turn.
 * Laws (test/property/joint-contradictions.property.test.ts):
 * - pairs left out as loose change no answer
 */

import { andAll, not, orAny, type Truth } from '../conditions/truth.ts';
import type { OpenValue } from '../solver/recorded-swap.ts';
import { flagMark, isAlways } from '../solver/simplify.ts';
import type { Constraint, Value } from '../solver/terms.ts';
import { hasValue } from '../solver/terms.ts';
import { mayBeInferred, shareName } from './joint-background.ts';
import type { OpenPair } from './joint-pairs.ts';

/** The pairs that remain when loose ones are taken away until there is none, in the given order. */
export function withoutLoose(pairs: readonly OpenPair[]): readonly OpenPair[] {
  const users = new Map<string, Set<OpenPair>>();
  for (const pair of pairs) {
    for (const link of pair.links) {
      const known = users.get(link);
      if (known) known.add(pair);
      else users.set(link, new Set([pair]));
    }
  }
  const isPrivate = (link: string): boolean => users.get(link)?.size === 1;
  const remaining = new Set(pairs);
  const waiting = [...pairs];
  for (let pair = waiting.pop(); pair; pair = waiting.pop()) {
    if (!remaining.has(pair) || !isLoose(pair, isPrivate)) continue;
    remaining.delete(pair);
    for (const link of pair.links) {
      const others = users.get(link);
      others?.delete(pair);
      if (others?.size === 1) waiting.push(...others);
    }
  }
  return remaining.size === pairs.length ? pairs : pairs.filter((pair) => remaining.has(pair));
}

/** What a free unknown is taken to be: a value that nothing else has, one that is named, the value of another slot, or true or false. */
type Choice =
  | { readonly is: 'fresh' }
  | { readonly is: 'named'; readonly value: Value }
  | { readonly is: 'equal'; readonly to: string }
  | { readonly is: boolean };

/** Whether some unknown of the pair is free and can be chosen so that the demand is met, whatever the others are. */
function isLoose(pair: OpenPair, isPrivate: (link: string) => boolean): boolean {
  const isFree = (name: string): boolean =>
    isPrivate(name) && (name.startsWith(flagMark) || isUnlimited(name, pair, isPrivate));
  return pair.links.some(
    (name) => isFree(name) && choicesFor(name, pair).some((choice) => truthUnder(pair.demand, name, choice) === true),
  );
}

/** Whether nothing but the pair's demand limits a slot. */
function isUnlimited(name: string, pair: OpenPair, isPrivate: (link: string) => boolean): boolean {
  const value = pair.open.get(name);
  if (!value || !isAlways(value.limits) || value.slot.sort.holds === 'days') return false;
  const open = [...pair.open.values()];
  const isOfRevision = name.endsWith(' rev') || name.endsWith(' board');
  if (isOfRevision) return pair.claims.length === 0 && !open.some(mayBeInferred);
  return !mayBeInferred(value) && isSharedWithNone(value, open, isPrivate);
}

function isSharedWithNone(
  { share }: OpenValue,
  open: readonly OpenValue[],
  isPrivate: (link: string) => boolean,
): boolean {
  if (!share) return true;
  const name = shareName(share);
  return isPrivate(name) && open.filter((other) => other.share && shareName(other.share) === name).length === 1;
}

function choicesFor(name: string, pair: OpenPair): readonly Choice[] {
  if (name.startsWith(flagMark)) {
    return pair.claims.some(({ flag }) => name === flagMark + flag.name) ? [] : [{ is: true }, { is: false }];
  }
  const value = pair.open.get(name);
  if (!value) return [];
  const { equals, values } = partners(name, pair.demand);
  const equal = equals.map((to): Choice => ({ is: 'equal', to }));
  if (value.slot.sort.holds !== 'texts') return equal;
  return [{ is: 'fresh' }, ...equal, ...values.map((one): Choice => ({ is: 'named', value: one }))];
}

interface Partners {
  /** Names of the slots that the demand compares the slot with. */
  readonly equals: string[];
  /** Values it asks about. */
  readonly values: Value[];
}

function partners(name: string, constraint: Constraint, found: Partners = { equals: [], values: [] }): Partners {
  switch (constraint.op) {
    case 'all':
    case 'any':
      for (const part of constraint.parts) partners(name, part, found);
      break;
    case 'not':
      partners(name, constraint.part, found);
      break;
    case 'equal':
      if (constraint.a.name === name) found.equals.push(constraint.b.name);
      if (constraint.b.name === name) found.equals.push(constraint.a.name);
      break;
    case 'in':
      if (constraint.slot.name === name && 'anyOf' in constraint.set) found.values.push(...constraint.set.anyOf);
      break;
    default:
  }
  return found;
}

/** Whether the constraint holds where one unknown is chosen and nothing is known of the others. */
function truthUnder(constraint: Constraint, name: string, choice: Choice): Truth {
  switch (constraint.op) {
    case 'all':
      return andAll(constraint.parts.map((part) => truthUnder(part, name, choice)));
    case 'any':
      return orAny(constraint.parts.map((part) => truthUnder(part, name, choice)));
    case 'not':
      return not(truthUnder(constraint.part, name, choice));
    case 'equal': {
      const { a, b } = constraint;
      if (a.name !== name && b.name !== name) return undefined;
      if (choice.is === 'fresh') return false;
      return choice.is === 'equal' && choice.to === (a.name === name ? b.name : a.name) ? true : undefined;
    }
    case 'in':
      if (constraint.slot.name !== name) return undefined;
      if (choice.is === 'fresh') return false;
      return choice.is === 'named' ? hasValue(constraint.set, choice.value) : undefined;
    case 'flag':
      return flagMark + constraint.name === name && typeof choice.is === 'boolean' ? choice.is : undefined;
    default:
      return undefined;
  }
}
