import { donorGroupsFor } from '../donors/donor-groups-for.ts';
import { changesBetween } from '../index/changes.ts';
import { referrersOf } from '../index/referrers.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, type DriveRecord, isRetracted, type RuleRecord } from '../model/record.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import type { StandingChanges } from './review.ts';

/** Patients whose donors are looked at; a change of a law that speaks of everything touches them all. */
const mostPatients = 50;

/**
 * The donors whose group differs for a patient that waits for a board. Patients are drives whose data is wanted, or whose board is
 * known to be faulty and whose data is not known to be dispensable; of these only those that the change can touch.
 */
export function* donorFlips(
  before: Snapshot,
  after: Snapshot,
): Generator<undefined, Pick<StandingChanges, 'donors' | 'patientsLeftOut'>> {
  const patients = touchedPatients(before, after);
  const donors: StandingChanges['donors'][number][] = [];
  for (const patient of patients.slice(0, mostPatients)) {
    const [then, now] = [donorGroupsFor(patient.id, before), donorGroupsFor(patient.id, after)];
    for (const id of [...new Set([...then.keys(), ...now.keys()])].sort(byCodeUnits)) {
      const donor = after.find('drive', id) ?? before.find('drive', id);
      const flip = { before: then.get(id), after: now.get(id) };
      if (donor && flip.before !== flip.after) donors.push({ patient, donor, ...flip });
    }
    yield;
  }
  return { donors, patientsLeftOut: Math.max(0, patients.length - mostPatients) };
}

/** Patients of either side that the change can touch, as they are now, by id. */
function touchedPatients(before: Snapshot, after: Snapshot): readonly DriveRecord[] {
  const touched = touchedFamilies(before, after);
  if (touched.size === 0) return [];
  const patients = new Map<string, DriveRecord>();
  for (const snapshot of [before, after]) {
    for (const drive of snapshot.records('drive')) {
      if (isWaiting(drive) && (touched.has(every) || touched.has(drive.data.family))) patients.set(drive.id, drive);
    }
  }
  return [...patients.values()].sort((a, b) => byCodeUnits(a.id, b.id));
}

function isWaiting(drive: DriveRecord): boolean {
  const { data, parts, shelf, condition } = drive.data;
  if (isRetracted(drive) || parts === 'board_only' || shelf?.spare === true) return false;
  return data === 'wanted' || (data === undefined && condition?.board === 'faulty');
}

/** Stands for all families; no id is like it. */
const every = '*';

/** Families whose patients may find their donors in other groups; undefined is that of drives whose family is not recorded. */
function touchedFamilies(before: Snapshot, after: Snapshot): ReadonlySet<string | undefined> {
  if (before.config.worksAt !== after.config.worksAt) return new Set([every]);
  const families = new Set<string | undefined>();
  for (const change of changesBetween(before, after).records) {
    for (const [record, snapshot] of [
      [change.before, before],
      [change.after, after],
    ] as const) {
      if (record) for (const family of familiesOf(record, snapshot)) families.add(family);
    }
  }
  return families;
}

function familiesOf(record: AnyRecord, snapshot: Snapshot): readonly (string | undefined)[] {
  switch (record.kind) {
    case 'maker':
    case 'outcome':
      return [];
    case 'family':
      return [record.id];
    case 'rule':
      return scopeOf(record);
    case 'drive':
      return [record.data.family, ...usersOf(record.data.board?.id, snapshot), ...promisedFamilies(snapshot)];
    case 'board':
      return [...usersOf(record.id, snapshot), ...promisedFamilies(snapshot)];
  }
}

/** The families that a board is said to be used in, and those of drives that came with it. */
function usersOf(board: string | undefined, snapshot: Snapshot): readonly (string | undefined)[] {
  if (board === undefined) return [];
  const drives = [...referrersOf(board, snapshot)].flatMap((one) => (one.kind === 'drive' ? [one.data.family] : []));
  return [...(snapshot.find('board', board)?.data.families ?? []), ...drives];
}

/** A law that promises success makes a donor of a board from any family. */
function promisedFamilies(snapshot: Snapshot): readonly string[] {
  return snapshot.records('rule').flatMap((rule) => (rule.data.claim === 'enough' ? scopeOf(rule) : []));
}

function scopeOf({ data: { applies_to: scope } }: RuleRecord): readonly string[] {
  return scope?.families && scope.families.length > 0 ? scope.families : [every];
}
