import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord, DriveRecord, OutcomeRecord } from '../model/record.ts';
import { type Day, type DaySpan, formatSpan, parseDate } from '../terms/calendar.ts';
import { inThousands } from '../text/in-thousands.ts';
import { contextOf, type DriveContext, type PairContext, pairOf } from '../verdicts/drive-context.ts';
import { type Column, isAfterSwap, type Report } from '../verdicts/identity-rows.ts';
import { earliestMade } from '../verdicts/made-readings.ts';
import { allReportsOf } from '../verdicts/outcome-captures.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleCapture, exampleOutcome, examplePair } from './example-base.ts';
import { spotOf } from './report-spot.ts';

const drives =
  'kind: drive\nid: d-0117\nfamily: tern-2\nmade: 2024-W02\n---\nkind: drive\nid: d-0118\nfamily: tern-2\n';

/** More power-on hours than a drive's life has had. */
export const hoursExceedAge = defineCheck({
  check: 'hours-exceed-age',
  group: 'record',
  severity: 'warning',
  scope: 'record',
  kinds: ['drive', 'outcome'],
  why: 'Some drives count minutes or half minutes, and some tools print them as hours. Hours show which counter an assembly brings along; a number that cannot be hours compares with nothing.',
  examples: () => [
    {
      title: 'Minutes, by the look of it',
      files: {
        ...examplePair,
        'drives/tern.yaml': drives,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
identity: [{value: power_on_hours, patient_before: 480000}]
#                                                  ^^^^^^ hours-exceed-age: Patient \`d-0117\` reports \`480000\` hours, more than the 19,128 from 2024-01-08 to 2026-03-14; taken as minutes it is 8,000 hours.
reached: reads
result: works
`,
      },
    },
    {
      title: 'Never switched off',
      files: {
        ...examplePair,
        'drives/tern.yaml': drives,
        'outcomes/one.yaml': exampleOutcome('identity: [{value: power_on_hours, patient_before: 19128}]\n'),
      },
    },
    {
      title: 'Minutes in a capture',
      files: {
        ...examplePair,
        'drives/tern.yaml': drives,
        'outcomes/one.yaml': exampleOutcome(`captures: {patient_before: 117a.json}
#                          ^^^^^^^^^ hours-exceed-age: Patient \`d-0117\` reports \`480000\` hours, more than the 19,128 from 2024-01-08 to 2026-03-14; taken as minutes it is 8,000 hours.
`),
        'outcomes/117a.json': exampleCapture({ powerOnHours: 480_000 }),
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot, today: Day) {
    if (record.kind === 'drive') {
      const draft = ownHours(record, snapshot, today);
      if (draft) yield draft;
    }
    if (record.kind === 'outcome') yield* reportedHours(record, snapshot, today);
  },
});

/** A time from manufacture to use. */
interface Life extends DaySpan {
  readonly hours: number;
}

/** From the earliest day of manufacture to the end of a day of use; undefined where that is not known or comes out negative. */
function lifeUntil(context: DriveContext | undefined, last: Day): Life | undefined {
  const first = context && earliestMade(context);
  return first !== undefined && first <= last ? { first, last, hours: (last - first + 1) * 24 } : undefined;
}

/** A drive's own hours have no date of their own: they were read today at the latest. */
function ownHours(drive: DriveRecord, snapshot: Snapshot, today: Day): Draft | undefined {
  const life = lifeUntil(contextOf(drive, snapshot), today);
  const { power_on_hours: hours } = drive.data;
  if (hours === undefined || !life || hours <= life.hours) return undefined;
  const at = { record: drive, path: ['power_on_hours'], side: 'value' } as const;
  return describe({ at }, { who: `Drive \`${drive.id}\``, hours, life });
}

/** Whether a drive reports more hours before the swap than its life until then has had. */
export function isBeyondAge(outcome: OutcomeRecord, { column, reported }: Report, pair: PairContext): boolean {
  const date = outcome.data.date === undefined ? undefined : parseDate(outcome.data.date);
  const life = date === undefined ? undefined : lifeOf(column, pair, date);
  return life !== undefined && Number(reported) > life.hours;
}

function* reportedHours(outcome: OutcomeRecord, snapshot: Snapshot, today: Day): Generator<Draft> {
  const date = outcome.data.date === undefined ? undefined : parseDate(outcome.data.date);
  const reports = inColumnOrder(allReportsOf(outcome, snapshot, 'power_on_hours'));
  if (date === undefined || reports.length === 0) return;
  const pair = pairOf(outcome, snapshot);
  const told = new Set<number>();
  let isBeforeTold = false;
  for (const report of reports) {
    const { column, reported } = report;
    const hours = Number(reported);
    const life = lifeOf(column, pair, date);
    const isAfter = isAfterSwap(column);
    // A counter goes on from where it stood: after a wrong value before, one after it is no second fault.
    if (!life || hours <= life.hours || told.has(hours) || (isAfter && isBeforeTold)) continue;
    told.add(hours);
    isBeforeTold ||= !isAfter;
    const owner = column === 'donor_before' ? pair.donor : pair.patient;
    if (!isAfter && owner && owner.drive.data.power_on_hours === hours && ownHours(owner.drive, snapshot, today))
      continue;
    yield describe(spotOf(outcome, report), { who: speaker(column, pair), hours, life });
  }
}

function inColumnOrder(reports: readonly Report[]): readonly Report[] {
  if (reports.length < 2) return reports;
  return [
    ...reports.filter(({ column }) => !isAfterSwap(column)),
    ...reports.filter(({ column }) => isAfterSwap(column)),
  ];
}

/** An assembly may bring the counter of either drive, so both lives must be known, and the longer one counts. */
function lifeOf(column: Column, { patient, donor }: PairContext, date: Day): Life | undefined {
  if (column === 'patient_before') return lifeUntil(patient, date);
  if (column === 'donor_before') return lifeUntil(donor, date);
  const lives = [lifeUntil(patient, date), lifeUntil(donor, date)] as const;
  const [a, b] = lives;
  return a && b && (a.hours >= b.hours ? a : b);
}

function speaker(column: Column, { patient, donor }: PairContext): string {
  if (column === 'patient_before') return `Patient \`${patient?.drive.id}\``;
  return column === 'donor_before' ? `Donor \`${donor?.drive.id}\`` : 'The assembly';
}

interface Excess {
  readonly who: string;
  readonly hours: number;
  readonly life: Life;
}

function describe(spot: Pick<Draft, 'at' | 'related'>, { who, hours, life }: Excess): Draft {
  const inMinutes = inThousands(Math.round(hours / 60));
  return {
    ...spot,
    message: `${who} reports \`${hours}\` hours, more than the ${inThousands(life.hours)} from ${formatSpan(life)}; taken as minutes it is ${inMinutes} hours.`,
  };
}
