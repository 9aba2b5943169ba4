import { followsOf } from '../captures/follows.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, isRetracted, type OutcomeRecord } from '../model/record.ts';
import { type DriveContext, type PairContext, pairOf } from '../verdicts/drive-context.ts';
import { reportsOf } from '../verdicts/identity-rows.ts';
import { ownValueOf } from '../verdicts/own-value.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleOutcome, examplePair } from './example-base.ts';

const bench = {
  ...examplePair,
  'families/tern.yaml': `${examplePair['families/tern.yaml']}identity: {serial: platters, firmware: board}\n`,
};

/** A value that moved with the other half of the drive than its family is said to. */
export const identityDisagrees = defineCheck({
  check: 'identity-disagrees',
  group: 'across',
  severity: 'warning',
  scope: 'record',
  kinds: ['outcome'],
  why: "A family's `identity` says whether a serial number under a strange board is the patient's or the donor's. Where it is wrong, a swap is taken for the wrong drive, or a drive that answers with the board's name for one that was never touched.",
  examples: () => [
    {
      title: "The donor's serial number after the swap, in a family that keeps it on the platters",
      files: {
        ...bench,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
identity:
  - {value: serial, patient_before: "****4F2K", donor_before: "****9Q1C", after: "****9Q1C"}
#                                                                                ^^^^^^^^^^ identity-disagrees: \`serial\` \`****9Q1C\` in \`after\` is what donor \`d-0118\` reported before, so it followed the board; family \`tern-2\` says \`platters\`.
reached: reads
result: works
`,
      },
    },
    {
      title: 'Firmware that followed the board, as it should here',
      files: {
        ...bench,
        'outcomes/one.yaml': exampleOutcome(
          'identity: [{value: firmware, patient_before: "1.02", donor_before: "1.07", after: "1.07"}]\n',
        ),
      },
    },
    {
      title: 'Both drives reported the same, so nothing can be told',
      files: {
        ...bench,
        'outcomes/one.yaml': exampleOutcome(
          'identity: [{value: firmware, patient_before: "1.02", donor_before: "1.02", after: "1.02"}]\n',
        ),
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome' || isRetracted(record) || record.data.patient === record.data.donor) return;
    if (record.data.identity === undefined) return;
    const pair = pairOf(record, snapshot);
    for (const assembly of assembliesOf(record, pair)) {
      for (const position of record.data.identity.keys()) {
        const draft = judge(record, position, assembly);
        if (draft && !restsOnFault(record, position, pair)) yield draft;
      }
    }
  },
});

interface Assembly {
  readonly column: 'after' | 'other_after';
  /** The drive that gave the platters. Its family is the one that says what follows what. */
  readonly platters: Half;
  /** The drive that gave the board. */
  readonly board: Half;
}

interface Half {
  readonly side: 'patient' | 'donor';
  readonly context: DriveContext;
}

function assembliesOf({ data }: OutcomeRecord, pair: PairContext): Assembly[] {
  if (!pair.patient || !pair.donor) return [];
  const patient: Half = { side: 'patient', context: pair.patient };
  const donor: Half = { side: 'donor', context: pair.donor };
  const both: Assembly[] = [
    { column: 'after', platters: patient, board: donor },
    { column: 'other_after', platters: donor, board: patient },
  ];
  // A bridge may answer in its own name, unless it is the drive's own.
  return both.filter(
    ({ platters }) => data.host?.port !== 'usb_bridge' || platters.context.family?.data.interface === 'usb',
  );
}

/** Whether a value before the swap is not that of its drive, which was reported. */
function restsOnFault(outcome: OutcomeRecord, position: number, pair: PairContext): boolean {
  return reportsOf(outcome).some(
    (report) => report.path[1] === position && ownValueOf(report, pair, outcome)?.fits === false,
  );
}

function judge(record: OutcomeRecord, position: number, { column, platters, board }: Assembly): Draft | undefined {
  const row = record.data.identity?.[position];
  const reported = row?.[column];
  if (row?.value === undefined || reported === undefined) return undefined;
  const { family } = platters.context;
  const said = family?.data.identity?.[row.value];
  if (!family || (said !== 'platters' && said !== 'board')) return undefined;
  const ofPlatters = row[`${platters.side}_before`];
  const follows = followsOf({ value: row.value, reported, ofPlatters, ofBoard: row[`${board.side}_before`] });
  if ((follows !== 'platters' && follows !== 'board') || follows === said) return undefined;
  // What comes with the platters may have come in the ROM that was moved along.
  if (follows === 'platters' && !stayedBehind(record)) return undefined;
  const source = follows === 'platters' ? platters : board;
  return {
    at: { record, path: ['identity', position, column], side: 'value' },
    message: `\`${row.value}\` \`${reported}\` in \`${column}\` is what ${source.side} \`${source.context.drive.id}\` reported before, so it followed the ${follows}; family \`${family.id}\` says \`${said}\`.`,
    help: 'Check the row and the family; correct the one that is wrong.',
    related: [
      { at: { record: family, path: ['identity', row.value], side: 'value' }, message: `Family \`${family.id}\`.` },
    ],
  };
}

/** Whether every board kept the ROM it came with. */
function stayedBehind({ data: { rom, rom_from: from, donor } }: OutcomeRecord): boolean {
  const actions = typeof rom === 'string' ? [rom] : (rom ?? []);
  return (
    rom !== undefined &&
    actions.every((action) => action === 'left' || action === 'not_fitted') &&
    (from === undefined || from === donor)
  );
}
