/**
 * Which records belong to which family. A family's are found along references, so that none is looked for among all records.
 * Laws (test/property/family-members.property.test.ts):
 * - the members of a family are the records that belong to it, each once and by id
 * - what is apart is what belongs to no family
 */
import { referrersOf } from '../index/referrers.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, type FamilyRecord, hasUnusable } from '../model/record.ts';
import { remembered } from '../terms/remembered.ts';
import { byCodeUnits } from '../text/by-code-units.ts';

/** The kinds of record that belong to families, in the order they are listed. */
export const memberKinds = ['board', 'drive', 'outcome', 'rule'] as const;

/** A kind of record that belongs to families. */
export type MemberKind = (typeof memberKinds)[number];

/**
 * The ids of the recorded families a record belongs to: those a board or a drive names, the one of an outcome's patient, those a rule
 * applies to, where it names none those of the makers it names. A rule for everything belongs to none.
 */
export function familiesOf(record: AnyRecord, snapshot: Snapshot): readonly string[] {
  return [...new Set(namedFamilies(record, snapshot))].filter((id) => isFamily(id, snapshot));
}

function isFamily(id: string, snapshot: Snapshot): boolean {
  return snapshot.find('family', id) !== undefined;
}

function namedFamilies(record: AnyRecord, snapshot: Snapshot): readonly string[] {
  switch (record.kind) {
    case 'board':
      return record.data.families ?? [];
    case 'drive':
      return record.data.family === undefined ? [] : [record.data.family];
    case 'outcome': {
      const patient = snapshot.find('drive', record.data.patient);
      return patient?.data.family === undefined ? [] : [patient.data.family];
    }
    case 'rule': {
      const { families = [], makers = [] } = record.data.applies_to ?? {};
      return families.length > 0 ? families : makers.flatMap((maker) => familiesBy(maker, snapshot));
    }
    case 'maker':
    case 'family':
      return [];
    default: {
      const none: never = record;
      return none;
    }
  }
}

function familiesBy(maker: string, snapshot: Snapshot): readonly string[] {
  return [...referrersOf(maker, snapshot)].flatMap((one) =>
    one.kind === 'family' && one.data.maker === maker ? one.id : [],
  );
}

/** The records of a kind that belong to a recorded family, by id, retracted ones among them. */
export function membersOf(kind: MemberKind, family: FamilyRecord, snapshot: Snapshot): readonly AnyRecord[] {
  const found = candidatesFor(kind, family, snapshot).filter(
    (record) => record.kind === kind && familiesOf(record, snapshot).includes(family.id),
  );
  return [...new Set(found)].sort(byId);
}

/** Records among which all members of a kind are. */
function candidatesFor(kind: MemberKind, { id, data }: FamilyRecord, snapshot: Snapshot): readonly AnyRecord[] {
  const naming = [...referrersOf(id, snapshot)];
  switch (kind) {
    case 'board':
    case 'drive':
      return naming;
    case 'outcome':
      return naming.flatMap((one) => (one.kind === 'drive' ? [...referrersOf(one.id, snapshot)] : []));
    case 'rule':
      return data.maker === undefined ? naming : [...naming, ...referrersOf(data.maker, snapshot)];
  }
}

/** The records that belong to no recorded family, each list by id. */
export interface Apart extends Readonly<Record<MemberKind, readonly AnyRecord[]>> {
  /** Rules for all families and makers; the other rules are for such as are not recorded. */
  readonly ruleForAll: readonly AnyRecord[];
}

/** What belongs to no recorded family. */
export const membersApart = remembered((snapshot: Snapshot): Apart => {
  const of = (kind: MemberKind): readonly AnyRecord[] =>
    (snapshot.records(kind) as readonly AnyRecord[]).filter(
      // No list is made of them, as this is asked of every record of a base.
      (one) => !namedFamilies(one, snapshot).some((id) => isFamily(id, snapshot)),
    );
  const rules = of('rule');
  return {
    board: of('board'),
    drive: of('drive'),
    outcome: of('outcome'),
    rule: rules.filter((rule) => !isForAll(rule)),
    ruleForAll: rules.filter(isForAll),
  };
});

/** Whether a rule is for everything. One whose scope cannot be read may be for anything. */
function isForAll(rule: AnyRecord): boolean {
  if (rule.kind !== 'rule' || hasUnusable(rule, 'applies_to')) return false;
  const { families = [], makers = [] } = rule.data.applies_to ?? {};
  return families.length + makers.length === 0;
}

function byId(a: AnyRecord, b: AnyRecord): number {
  return byCodeUnits(a.id, b.id);
}
