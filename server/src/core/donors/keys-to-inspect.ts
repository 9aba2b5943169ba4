/**
 * What somebody may still look at to learn more of a planned swap.
 * Laws (test/property/keys-to-inspect.property.test.ts):
 * - a key to inspect holds no value, and is read on a label, a board or a ROM
 * - nothing is asked of a part that is not there
 * - the key that most laws wait for comes first
 */
import type { Atom } from '../conditions/formula.ts';
import { openSlotsOf } from '../conditions/open-slots.ts';
import { reasonsFor } from '../conditions/reasons.ts';
import type { Side, Swap } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { nameOf } from '../model/record.ts';
import { canBecome } from '../reasoning/can-become.ts';
import { isInScope, type Rule } from '../reasoning/rule.ts';
import { scopeKeys } from '../reasoning/scope-keys.ts';
import { keysForSlot, nameOfKey, type WantedKey } from '../reasoning/wanted-keys.ts';
import { byCodeUnits } from '../text/by-code-units.ts';

/**
 * Keys that would let undecided laws say something of a planned swap, those first for which most laws wait, then by record and key.
 * Left out is what can only be read inside, from a host, on a half of a drive that is not there, or once the swap was made.
 */
export function keysToInspect(undecided: readonly Rule[], swap: Swap, snapshot: Snapshot): readonly WantedKey[] {
  const counts = new Map<string, { readonly key: WantedKey; readonly laws: number }>();
  for (const rule of undecided) {
    const keys = new Map(keysFor(rule, swap, snapshot).map((key) => [nameOfKey(key), key]));
    for (const [name, key] of keys) counts.set(name, { key, laws: (counts.get(name)?.laws ?? 0) + 1 });
  }
  const sorted = [...counts].sort(([a, left], [b, right]) => right.laws - left.laws || byCodeUnits(a, b));
  return sorted.map(([, { key }]) => key);
}

function keysFor(rule: Rule, swap: Swap, snapshot: Snapshot): readonly WantedKey[] {
  const scope = isInScope(rule, swap.patient) === undefined ? askable(scopeKeys(rule, swap, snapshot) ?? [], swap) : [];
  if (isInScope(rule, swap.patient) === undefined && scope.length === 0) return [];
  const keysOf = (atom: Atom): readonly WantedKey[] =>
    askable(
      openSlotsOf(atom, swap).flatMap((slot) => keysForSlot(slot, swap, snapshot)),
      swap,
    );
  // What cannot come to speak against the donor, or for it, is not worth a look.
  if (!canBecome(rule.claim !== 'needs', rule.when, swap, (atom) => keysOf(atom).length > 0)) return [];
  const open = reasonsFor(rule.when, swap).filter(({ truth }) => truth === undefined);
  return [...scope, ...open.flatMap(({ atom }) => keysOf(atom))];
}

function askable(keys: readonly WantedKey[], { patient, donor }: Swap): readonly WantedKey[] {
  return keys.filter(({ record, row }) => {
    const side = [patient, donor].find((one) => nameOf(one.drive) === record);
    if (!side) return !record.startsWith('outcome/');
    return row?.readFrom !== undefined && isAtHand(row.readFrom, side);
  });
}

/** Labels are on the lid; what is on the board, or in its ROM, went with it. */
function isAtHand(readFrom: string, { drive: { data } }: Side): boolean {
  if (readFrom === 'label') return data.parts !== 'board_only';
  return (readFrom === 'board' || readFrom === 'rom_image') && data.parts !== 'hda_only';
}
