/**
 * What the checks of single records raised, as plain data that outlives a process.
 * Laws (test/property/run-checks.property.test.ts):
 * - a run that builds on what was kept of an earlier one finds what a fresh one finds
 */
import { SharedMap } from '../index/shared-map.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, nameOf } from '../model/record.ts';
import type { Kind } from '../terms/kinds.ts';
import type { Check, Draft, Spot } from './define-check.ts';
import { gather, type Raised, raise } from './raised.ts';
import type { CheckedBase } from './run-checks.ts';

/** A spot in which a record is named. */
type KeptSpot = Exclude<Spot, { readonly record: unknown }> | (Omit<RecordSpot, 'record'> & { readonly record: Name });

type RecordSpot = Extract<Spot, { readonly record: unknown }>;

type Name = readonly [kind: Kind, id: string];

interface KeptDraft extends Omit<Draft, 'at' | 'related'> {
  readonly at: KeptSpot;
  readonly related?: readonly { readonly at: KeptSpot; readonly message: string }[];
}

/** What was raised about records; those without a finding are absent. */
export type KeptRecords = readonly (readonly [
  about: Name,
  raised: readonly (readonly [check: string, draft: KeptDraft])[],
])[];

/** What is to be kept of a run; undefined where a check failed, which may work the next time (invariant 12). */
export function keepRecords({ byRecord, crashes }: CheckedBase): KeptRecords | undefined {
  if (crashes > 0) return undefined;
  return Array.from(byRecord.values()).flatMap((raised) => {
    const about = raised[0]?.about;
    return about ? [[[about.kind, about.id], raised.map(({ check, draft }) => [check.check, keepDraft(draft)])]] : [];
  });
}

/**
 * The run over a snapshot of which this was kept, as far as single records go: the others are checked again by whatever builds on it.
 * Undefined where something names what does not stand in the snapshot.
 */
export function restoreRecords(
  kept: KeptRecords,
  snapshot: Snapshot,
  { today, checks }: Pick<CheckedBase, 'today' | 'checks'>,
): CheckedBase | undefined {
  const byId = new Map<string, Check>(checks.map((check) => [check.check, check]));
  const byRecord = new Map<string, readonly Raised[]>();
  for (const [name, drafts] of kept) {
    const about = find(name, snapshot);
    const raised: Raised[] = [];
    for (const [id, keptDraft] of drafts) {
      const check = byId.get(id);
      const draft = restoreDraft(keptDraft, snapshot);
      if (!about || !check || !draft) return undefined;
      raised.push(raise({ check, draft, about }, snapshot));
    }
    if (about) byRecord.set(nameOf(about), raised);
  }
  const come = [...byRecord.values()].flat();
  const records = { byRecord: SharedMap.of(byRecord), recordsChecked: 0 };
  return { snapshot, today, checks, ...records, others: [], ...gather({ gone: [], come }) };
}

function find([kind, id]: Name, snapshot: Snapshot): AnyRecord | undefined {
  return snapshot.findAny(kind, id);
}

function keepDraft({ at, related, ...rest }: Draft): KeptDraft {
  const others = related?.map((other) => ({ ...other, at: keepSpot(other.at) }));
  return { ...rest, at: keepSpot(at), ...(others ? { related: others } : {}) };
}

function keepSpot(spot: Spot): KeptSpot {
  return 'record' in spot ? { ...spot, record: [spot.record.kind, spot.record.id] } : spot;
}

function restoreDraft({ at, related, ...rest }: KeptDraft, snapshot: Snapshot): Draft | undefined {
  const spot = restoreSpot(at, snapshot);
  const others: { at: Spot; message: string }[] = [];
  for (const { at: kept, message } of related ?? []) {
    const other = restoreSpot(kept, snapshot);
    if (!other) return undefined;
    others.push({ at: other, message });
  }
  return spot && { ...rest, at: spot, ...(related ? { related: others } : {}) };
}

function restoreSpot(spot: KeptSpot, snapshot: Snapshot): Spot | undefined {
  if (!('record' in spot)) return spot;
  const record = find(spot.record, snapshot);
  return record && { ...spot, record };
}
