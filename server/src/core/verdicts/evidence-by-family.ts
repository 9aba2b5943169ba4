import type { Changes } from '../index/changes.ts';
import { type Derivation, derive } from '../index/derivation.ts';
import { affectedBy } from '../index/referrers.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { findSorted, replaceSorted } from '../index/sorted.ts';
import { addTo } from '../terms/grouped.ts';
import { allEvidence, changedEvidence, type Evidence, evidenceTable, outcomeIdOf } from './evidence.ts';

/** Evidence by the family of the patient, each list by outcome id; under undefined where that family cannot be read. */
export type EvidenceByFamily = ReadonlyMap<string | undefined, readonly Evidence[]>;

/** Outcomes between two yields. */
const outcomesPerStep = 500;

/** The evidence of every outcome that counts, by family. */
export const evidenceTableByFamily: Derivation<EvidenceByFamily> = {
  name: 'evidence by family',
  restsOn: [evidenceTable],
  *compute(snapshot) {
    const groups = new Map<string | undefined, Evidence[]>();
    for (const [position, one] of allEvidence(snapshot).entries()) {
      if (position % outcomesPerStep === 0) yield;
      addTo(groups, familyOf(one), one);
    }
    return groups;
  },
  update(value, changes) {
    const [old, current] = [allEvidence(changes.before), allEvidence(changes.after)];
    const ids = changedEvidence(changes);
    const groups = new Map(value);
    const families = [...ids].flatMap((id) =>
      [old, current].flatMap((list) => {
        const one = findSorted(list, id, outcomeIdOf);
        return one ? [familyOf(one)] : [];
      }),
    );
    for (const family of new Set(families)) {
      const group = replaceSorted(groups.get(family) ?? [], ids, outcomeIdOf, (id) => {
        const one = findSorted(current, id, outcomeIdOf);
        return one && familyOf(one) === family ? one : undefined;
      });
      if (group.length > 0) groups.set(family, group);
      else groups.delete(family);
    }
    return groups;
  },
};

/** The evidence of the outcomes that count. */
export function evidenceByFamily(snapshot: Snapshot): EvidenceByFamily {
  return derive(evidenceTableByFamily, snapshot);
}

/** The families for which evidence, or anything about its drives, may differ because of changes. */
export function affectedFamilies(changes: Changes): ReadonlySet<string | undefined> {
  const { before, after } = changes;
  const families = new Set<string | undefined>();
  for (const record of [...affectedBy(changes), ...changes.records.flatMap((change) => change.before ?? [])]) {
    if (record.kind !== 'outcome') continue;
    for (const snapshot of [before, after]) {
      const patient = snapshot.find('drive', snapshot.find('outcome', record.id)?.data.patient);
      families.add(patient?.data.family);
    }
  }
  return families;
}

/** The family of the patient, as its drive names it. */
export function familyOf({ swap }: Evidence): string | undefined {
  return swap?.patient.drive.data.family;
}
