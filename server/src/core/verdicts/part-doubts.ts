/**
 * What recorded outcomes say against the parts of a drive, as long as no other outcome takes it back.
 * Laws (test/verdicts/part-doubts.test.ts):
 * - an outcome on or before the day of the record says nothing against it
 * - a drive that worked whole on the same day or later takes back every doubt of another outcome
 */

import { romActionsOf } from '../conditions/rom-travels.ts';
import { type Derivation, derive } from '../index/derivation.ts';
import { SharedMap } from '../index/shared-map.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type DriveRecord, hasUnusable, isRetracted, type OutcomeRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import { addTo } from '../terms/grouped.ts';
import { isAtLeast } from '../terms/stages.ts';
import { byDate } from './by-date.ts';
import { evidenceOf } from './evidence.ts';

/** What an outcome says against a part of a drive. */
export interface Doubt {
  /**
   * `place`: the drive's board, or a part of it, stayed on another drive. `board`, `media`: that half is damaged. `drive`: the two
   * together no longer work, and nothing says which of them is at fault.
   */
  readonly about: 'place' | 'board' | 'media' | 'drive';
  readonly outcome: OutcomeRecord;
  /** Path in the outcome. */
  readonly path: Path;
  /** Completes "outcome … says that …". */
  readonly says: string;
}

/** An outcome as one drive took part in it. */
interface Use {
  readonly outcome: OutcomeRecord;
  /** Id of the drive. */
  readonly drive: string;
  readonly role: 'patient' | 'donor';
}

/**
 * The doubts that outcomes after a day raise about a drive, oldest first. Without a day every outcome counts, dated or not; with
 * one, those without a date are left out. Retracted outcomes and controls that cannot be read raise none.
 */
export function doubtsAbout(drive: DriveRecord, after: string | undefined, snapshot: Snapshot): Doubt[] {
  const uses = derive(usesByDrive, snapshot).get(drive.id) ?? [];
  const later = uses.filter(({ outcome: { data } }) => after === undefined || (data.date ?? '') > after);
  const doubts = later.flatMap((use) => doubtsOf(use, snapshot));
  const clearing = new Map<Doubt['about'], readonly Use[]>();
  return doubts.filter((doubt) => {
    const clearers = clearing.get(doubt.about) ?? later.filter((use) => takesBack(use, doubt.about, snapshot));
    clearing.set(doubt.about, clearers);
    // Undated ones come first and the latest last; two at each end, since one may be the doubted outcome itself.
    const ends = [...clearers.slice(0, 2), ...clearers.slice(-2)];
    return !ends.some(({ outcome }) => outcome !== doubt.outcome && !isBefore(outcome, doubt.outcome));
  });
}

type UsesByDrive = SharedMap<readonly Use[]>;

/** Outcomes between two yields. */
const outcomesPerStep = 200;

/** The uses of every drive, by date. */
export const usesByDrive: Derivation<UsesByDrive> = {
  name: 'uses of drives',
  *compute(snapshot) {
    const uses = new Map<string, Use[]>();
    for (const [position, outcome] of (yield* snapshot.recordsInSteps('outcome')).entries()) {
      for (const use of usesIn(outcome)) addTo(uses, use.drive, use);
      if (position % outcomesPerStep === 0) yield;
    }
    let count = 0;
    for (const ofDrive of uses.values()) {
      ofDrive.sort((a, b) => byDate(a.outcome, b.outcome));
      if (++count % outcomesPerStep === 0) yield;
    }
    return SharedMap.of<readonly Use[]>(uses);
  },
  update(value, { records }) {
    const outcomes = records.filter(({ kind }) => kind === 'outcome');
    const changed = new Map<string, readonly Use[]>();
    const usesOf = (drive: string): readonly Use[] => changed.get(drive) ?? value.get(drive) ?? [];
    for (const { drive } of outcomes.flatMap(({ before }) => (before ? usesIn(before as OutcomeRecord) : []))) {
      changed.set(
        drive,
        usesOf(drive).filter(({ outcome }) => !outcomes.some(({ before }) => before === outcome)),
      );
    }
    for (const use of outcomes.flatMap(({ after }) => (after ? usesIn(after as OutcomeRecord) : []))) {
      changed.set(
        use.drive,
        [...usesOf(use.drive), use].sort((a, b) => byDate(a.outcome, b.outcome)),
      );
    }
    return value.with(Array.from(changed, ([drive, uses]) => [drive, uses.length > 0 ? uses : undefined] as const));
  },
};

/** The uses an outcome made of drives; none where it does not count or does not tell enough. */
function usesIn(outcome: OutcomeRecord): Use[] {
  const { patient, donor } = outcome.data;
  if (isRetracted(outcome) || hasUnusable(outcome, 'controls') || patient === donor) return [];
  return [
    ...(patient === undefined ? [] : [{ outcome, drive: patient, role: 'patient' } as const]),
    ...(donor === undefined ? [] : [{ outcome, drive: donor, role: 'donor' } as const]),
  ];
}

/** Whether one outcome is known to lie before another; of two on one day neither does. */
function isBefore(a: OutcomeRecord, b: OutcomeRecord): boolean {
  return a.data.date !== undefined && b.data.date !== undefined && a.data.date < b.data.date;
}

type State = 'works' | 'fails' | undefined;

/** How the drive did on its own board before the swap. */
function before({ outcome, role }: Use): State {
  const control = outcome.data.controls?.[`${role}_on_own_board`];
  if (control === 'works' || control === 'verified') return 'works';
  return control === 'fails' ? 'fails' : undefined;
}

/** How it did once swapped back. */
function afterwards({ outcome, role }: Use): State {
  switch (outcome.data.controls?.swapped_back) {
    case 'both_work':
      return 'works';
    case 'both_fail':
      return 'fails';
    case 'patient_fails':
      return role === 'patient' ? 'fails' : 'works';
    case 'donor_fails':
      return role === 'donor' ? 'fails' : 'works';
    default:
      return undefined;
  }
}

/** Whether the swap worked, so that the patient's platters and the donor's board are both good. */
function worked({ outcome }: Use, snapshot: Snapshot): boolean {
  const { reached } = outcome.data;
  return reached !== undefined && isAtLeast(reached, snapshot.config.worksAt);
}

function takesBack(use: Use, about: Doubt['about'], snapshot: Snapshot): boolean {
  if (before(use) === 'works' || afterwards(use) === 'works') return true;
  if (!worked(use, snapshot)) return false;
  return use.role === 'donor' ? about === 'board' : about === 'media';
}

function doubtsOf(use: Use, snapshot: Snapshot): Doubt[] {
  const { outcome, role } = use;
  const doubts: Doubt[] = [];
  const failure = failureOf(use, snapshot);
  if (failure) doubts.push({ outcome, ...failure });
  if (outcome.data.controls?.swapped_back === 'not_done') {
    const says = partLeft(use);
    if (says !== undefined) doubts.push({ about: 'place', outcome, path: ['controls', 'swapped_back'], says });
  }
  if (role === 'patient' && outcome.data.observed?.sound === 'grinding' && afterwards(use) !== 'works') {
    doubts.push({ about: 'media', outcome, path: ['observed', 'sound'], says: 'the drive was grinding' });
  }
  return doubts;
}

/** What stayed away from the drive's own board or with it on the other drive, where nothing was swapped back. */
function partLeft({ outcome, role }: Use): string | undefined {
  if (role === 'donor') return `its board was put on patient \`${outcome.data.patient}\` and not swapped back`;
  const actions = romActionsOf(outcome) ?? [];
  if (actions.includes('controller_moved')) return "its controller was moved to the donor's board and not swapped back";
  return actions.includes('chip_moved')
    ? "its ROM chip was moved to the donor's board and not swapped back"
    : undefined;
}

/** What a failure on the drive's own board says. Source: common practice, no source. */
function failureOf(use: Use, snapshot: Snapshot): Omit<Doubt, 'outcome'> | undefined {
  const { role } = use;
  const last = afterwards(use);
  if ((last ?? before(use)) !== 'fails') return undefined;
  const turned = last === 'fails' && before(use) === 'works';
  if (!turned && mayBeTheHost(use, snapshot)) return undefined;
  const path: Path = ['controls', last === 'fails' ? 'swapped_back' : `${role}_on_own_board`];
  if (role === 'patient' && worked(use, snapshot)) {
    return { about: 'board', path, says: "the drive failed on its own board and worked with the donor's" };
  }
  if (turned && role === 'donor')
    return { about: 'board', path, says: 'the drive no longer worked on its own board when swapped back' };
  if (role === 'donor' && worked(use, snapshot)) {
    return { about: 'media', path, says: 'the drive failed on its own board, though that board worked on the patient' };
  }
  return {
    about: 'drive',
    path,
    says: `the drive ${turned ? 'no longer worked when swapped back' : 'failed on its own board'}`,
  };
}

/** Whether a host that does not meet a family's needs, or records that cannot be read, may be behind a failure. */
function mayBeTheHost({ outcome }: Use, snapshot: Snapshot): boolean {
  const { missing } = evidenceOf(outcome, snapshot).verdicts[snapshot.config.worksAt];
  return missing.some(({ what }) => what === 'host_need' || what === 'record');
}
