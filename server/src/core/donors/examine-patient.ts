import { romTravels } from '../conditions/rom-travels.ts';
import { type Side, swapOf } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { DriveRecord, OutcomeRecord } from '../model/record.ts';
import { isAtLeast } from '../terms/stages.ts';
import {
  type Examination,
  examinationOf,
  isBurnt,
  isSupplyShorted,
  mayTakeNextBoard,
} from '../verdicts/examination.ts';
import { doubtsAbout } from '../verdicts/part-doubts.ts';
import { outcomesWith } from './outcomes-with.ts';

/** Something that points at heads, media or motor, which no board cures. */
interface InsideSign {
  /** Id of the outcome that says so; undefined for the drive's own record. */
  readonly outcome: string | undefined;
  /** Completes "… says that …". */
  readonly says: string;
}

/** What is known of a patient before a board is chosen for it. */
export interface PatientState {
  readonly examination: Examination;
  /** Whether the next board may die as well, so that no board is due before more was measured. */
  readonly isMeasuredFirst: boolean;
  /** Whether a supply line is shorted and nothing else is known to be wrong, so that the protection diode may be all. */
  readonly mayBeDiode: boolean;
  /** The drive's own record first, then outcomes by date. */
  readonly inside: readonly InsideSign[];
  /** Whether its own board is recorded as good, so that no other seems to be needed. */
  readonly isOwnBoardGood: boolean;
  /** Whether its own board holds data of its user besides the platters. */
  readonly holdsUserData: boolean;
}

/** The state of a patient. */
export function examinePatient(patient: Side, snapshot: Snapshot): PatientState {
  const examination = examinationOf(patient.drive);
  return {
    examination,
    isMeasuredFirst: mayTakeNextBoard(examination),
    mayBeDiode: isSupplyAlone(examination),
    inside: insideSigns(patient, snapshot),
    isOwnBoardGood: patient.drive.data.condition?.board === 'good',
    holdsUserData: patient.revision?.roms?.some((rom) => rom.holds?.includes('user_data')) === true,
  };
}

function isSupplyAlone(examination: Examination): boolean {
  const { motor_windings: windings, head_lines: lines } = examination.readings;
  const isOtherBad = [windings, lines].some((reading) => reading !== undefined && reading.value !== 'ok');
  return isSupplyShorted(examination) && !isBurnt(examination) && !isOtherBad;
}

function insideSigns({ drive }: Side, snapshot: Snapshot): InsideSign[] {
  const { media, as_of: asOf } = drive.data.condition ?? {};
  const recorded =
    media === 'failed' || media === 'suspect'
      ? [{ outcome: undefined, says: `its heads or platters are \`${media}\`` }]
      : [];
  const doubts = doubtsAbout(drive, asOf, snapshot).filter(({ about }) => about === 'media');
  const doubted = doubts.map(({ outcome, says }) => ({ outcome: outcome.id, says }));
  const heard = heardSounds(drive, snapshot).filter(({ outcome }) => !doubted.some((one) => one.outcome === outcome));
  return [...recorded, ...doubted, ...heard];
}

/**
 * Sounds of the patient that no later success takes back. Clicking counts only where its own adaptives came along: with those of
 * another drive, sound heads click too. Source: common practice, no source.
 */
function heardSounds(drive: DriveRecord, snapshot: Snapshot): InsideSign[] {
  const outcomes = outcomesWith(drive, snapshot).filter(({ data }) => data.patient === drive.id);
  const lastSuccess = outcomes.findLast(({ data }) => hasWorked(data.reached, snapshot))?.data.date ?? '';
  return outcomes.flatMap((outcome) => {
    const { sound } = outcome.data.observed ?? {};
    if ((outcome.data.date ?? '') <= lastSuccess || !isInside(sound, outcome, snapshot)) return [];
    return [{ outcome: outcome.id, says: `it was ${sound}` }];
  });
}

function hasWorked(reached: OutcomeRecord['data']['reached'], snapshot: Snapshot): boolean {
  return reached !== undefined && isAtLeast(reached, snapshot.config.worksAt);
}

function isInside(sound: string | undefined, outcome: OutcomeRecord, snapshot: Snapshot): boolean {
  if (sound === 'grinding' || sound === 'beeping') return true;
  const swap = sound === 'clicking' ? swapOf(outcome, snapshot) : undefined;
  return swap !== undefined && romTravels(swap) === true;
}
