import { madeSlots } from '../conditions/open-slots.ts';
import type { Swap } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { Rule } from './rule.ts';
import { keysForSlot, type WantedKey } from './wanted-keys.ts';

/** The keys that would tell whether a swap lies in a rule's scope, where that is not known; undefined where no key would. */
export function scopeKeys(rule: Rule, swap: Swap, snapshot: Snapshot): readonly WantedKey[] | undefined {
  const { families = [], makers = [], made } = rule.record.data.applies_to ?? {};
  const { drive, family } = swap.patient;
  const isFamilyOpen = drive.data.family === undefined && families.length + makers.length > 0;
  const slots = [
    ...(isFamilyOpen ? [{ owner: { kind: 'drive', id: drive.id }, key: 'family' } as const] : []),
    ...(made === undefined ? [] : madeSlots(swap.patient)),
  ];
  const isMakerLost = makers.length > 0 && drive.data.family !== undefined && family?.data.maker === undefined;
  const keys = slots.flatMap((slot) => keysForSlot(slot, swap, snapshot));
  return isMakerLost || keys.length < slots.length || keys.length === 0 ? undefined : keys;
}
