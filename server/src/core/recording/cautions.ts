/**
 * What to mind at each step. Source: common practice, no source.
 * A caution stands before the step at which it is still of use, and nowhere where nothing calls for it.
 */
import { romCautions } from '../rom-images/rom-cautions.ts';
import { keepUnmounted, keepUnpowered, stopForData } from '../terms/standing-cautions.ts';
import { examinationOf, mayTakeNextBoard } from '../verdicts/examination.ts';
import type { Bench } from './bench.ts';

/** What cautions look at: a base, and which drives are meant. */
export type CautionBench = Pick<Bench, 'snapshot' | 'text' | 'drive'>;

/** A caution: before which question it stands, when, and what it says. */
interface Caution {
  readonly before: string;
  readonly applies: (bench: CautionBench) => boolean;
  readonly says: string | ((bench: CautionBench) => string);
}

const always = (): boolean => true;

/** Cautions of all recordings, in the order in which they are shown. */
const cautions: readonly Caution[] = [
  {
    before: 'donor',
    applies: isDataWanted,
    says: (bench) =>
      `${stopForData(`\`${bench.text('patient')}\``)} Never open the head-disk assembly outside a clean bench.`,
  },
  {
    before: 'donor',
    applies: wasLeftUnmeasured,
    says: (bench) =>
      `The board of \`${bench.text('patient')}\` is burnt or a line is shorted, and windings or head lines are not known to be good. Measure first: a shorted preamp or motor winding kills the next board too.`,
  },
  {
    before: 'controls.donor_on_own_board',
    applies: always,
    says: 'Disconnect power before touching a board, and ground yourself.',
  },
  {
    before: 'controls.patient_on_own_board',
    applies: always,
    says: keepUnpowered,
  },
  {
    before: 'rom',
    applies: isDataWanted,
    says: romCautions.adaptives,
  },
  {
    before: 'rom',
    applies: always,
    says: romCautions.twoReads,
  },
  {
    before: 'observed.powered_minutes',
    applies: (bench) => ['clicking', 'beeping', 'grinding'].includes(bench.text('observed.sound') ?? ''),
    says: (bench) =>
      bench.text('observed.sound') === 'grinding'
        ? 'A grinding drive is not to be powered at all. Leave it without power now.'
        : `A \`${bench.text('observed.sound')}\` drive is not to be powered for longer than ${bench.snapshot.config.keptPoweredMinutes} min in this base. Leave it without power now.`,
  },
  {
    before: 'observed.detected',
    applies: isDataWanted,
    says: keepUnmounted,
  },
  {
    before: 'verify.0.method',
    applies: isDataWanted,
    says: 'Never run a writing test on a drive whose data is wanted, and treat data that nobody has spoken of as wanted. Make an image before scrubbing: a scrub that repairs writes.',
  },
  {
    before: 'serial',
    applies: ({ snapshot }) => snapshot.config.serials === 'masked',
    says: "Customers' serial numbers stay out of a shared repository: write `****` and the last four characters.",
  },
  {
    before: 'preamp',
    applies: always,
    says: 'Never open the head-disk assembly to read this outside a clean bench; no key in these files is worth it.',
  },
];

/** Data that nobody has spoken of is treated as wanted; what cannot be read is not known. */
function isDataWanted(bench: CautionBench): boolean {
  const data = bench.drive('patient')?.data.data;
  return bench.drive('patient') !== undefined && data !== 'test' && data !== 'none';
}

/** Whether the examinations leave open that the next board dies as well. */
function wasLeftUnmeasured(bench: CautionBench): boolean {
  const patient = bench.drive('patient');
  return patient !== undefined && mayTakeNextBoard(examinationOf(patient));
}

/** The cautions before a question, in order; empty where there are none. */
export function cautionsBefore(name: string, bench: CautionBench): readonly string[] {
  return cautions
    .filter(({ before, applies }) => before === name && applies(bench))
    .map(({ says }) => (typeof says === 'string' ? says : says(bench)));
}
