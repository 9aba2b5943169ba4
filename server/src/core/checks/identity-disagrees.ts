import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, isRetracted, type OutcomeRecord } from '../model/record.ts';
import { didRomStay, type FollowedValue, followedIn } from '../verdicts/identity-follows.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleCapture, exampleOutcome, examplePair } from './example-base.ts';
import { quotedReport } from './quoted-report.ts';
import { spotOf } from './report-spot.ts';

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
    {
      title: 'The same, as captured',
      files: {
        ...bench,
        'outcomes/one.yaml':
          exampleOutcome(`captures: {patient_before: 117a.json, donor_before: 118a.json, after: 117-on-118.json}
#                                                                     ^^^^^^^^^^^^^^^ identity-disagrees: \`serial\` \`****9Q1C\` in \`after\` is what donor \`d-0118\` reported before, so it followed the board; family \`tern-2\` says \`platters\`.
`),
        'outcomes/117a.json': exampleCapture({ serial: '****4F2K' }),
        'outcomes/118a.json': exampleCapture({ serial: '****9Q1C' }),
        'outcomes/117-on-118.json': exampleCapture({ serial: '****9Q1C' }),
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome' || isRetracted(record)) return;
    for (const followed of followedIn(record, snapshot)) {
      const draft = judge(record, followed, snapshot);
      if (draft) yield draft;
    }
  },
});

function judge(record: OutcomeRecord, followed: FollowedValue, snapshot: Snapshot): Draft | undefined {
  const { value, report, column, follows, platters, board } = followed;
  const { at, related } = spotOf(record, report);
  const { family } = platters.context;
  const said = family?.data.identity?.[value];
  if (!family || (said !== 'platters' && said !== 'board')) return undefined;
  if ((follows !== 'platters' && follows !== 'board') || follows === said) return undefined;
  if (follows === 'platters' && !didRomStay(record)) return undefined;
  const source = follows === 'platters' ? platters : board;
  return {
    at,
    message: `\`${value}\` \`${quotedReport(report, snapshot)}\` in \`${column}\` is what ${source.side} \`${source.context.drive.id}\` reported before, so it followed the ${follows}; family \`${family.id}\` says \`${said}\`.`,
    help: 'Check the row and the family; correct the one that is wrong.',
    related: [
      ...related,
      { at: { record: family, path: ['identity', value], side: 'value' }, message: `Family \`${family.id}\`.` },
    ],
  };
}
