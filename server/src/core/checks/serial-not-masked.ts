import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import { isMaskedSerial, maskedSerial } from '../terms/masked-serial.ts';
import { type RecordedSerial, recordedSerialsOf } from '../verdicts/recorded-serials.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleCapture, exampleFamily, exampleOutcome, examplePair } from './example-base.ts';
import type { DraftFix } from './fix.ts';
import { unmaskedCaptures } from './unmasked-captures.ts';

const bench = {
  ...exampleFamily(),
};

/** A whole serial number in a base that keeps them masked. */
export const serialNotMasked = defineCheck({
  check: 'serial-not-masked',
  group: 'record',
  severity: 'error',
  scope: 'record',
  kinds: ['drive', 'outcome'],
  why: 'A serial number leads back to the owner of a drive, and what was pushed to a shared repository stays in its history. The last four characters are enough to follow an identity through a swap.',
  examples: () => [
    {
      title: 'A whole number on a drive, and one in an identity row',
      files: {
        ...bench,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
serial: WRN0A4F2K
#       ^^^^^^^^^ serial-not-masked: Serial number of drive \`d-0117\` is not masked, but this base keeps serial numbers masked, as \`****\` with the last 1 to 4 characters or as a keyed digest.
---
kind: drive
id: d-0118
family: tern-2
serial: "****9Q1C"
`,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
identity:
  - {value: serial, donor_before: "****9Q1C", after: WRN0A4F2K}
#                                                    ^^^^^^^^^ serial-not-masked: Serial number under \`after\` of outcome \`one\` is not masked, but this base keeps serial numbers masked, as \`****\` with the last 1 to 4 characters or as a keyed digest.
reached: reads
result: works
`,
      },
    },
    {
      title: 'A tail of five characters',
      files: {
        ...bench,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
serial: "****A4F2K"
#       ^^^^^^^^^^^ serial-not-masked: Serial number of drive \`d-0117\` is not masked, but this base keeps serial numbers masked, as \`****\` with the last 1 to 4 characters or as a keyed digest.
`,
      },
    },
    {
      title: 'A capture with a whole number',
      files: {
        ...examplePair,
        'outcomes/one.yaml': exampleOutcome(`captures:
  patient_before: 117a.json
#                 ^^^^^^^^^ serial-not-masked: Capture \`117a.json\` of outcome \`one\` holds a serial number that is not masked, but this base keeps serial numbers masked, as \`****\` with the last 1 to 4 characters or as a keyed digest.
  after: 117-on-118.json
`),
        'outcomes/117a.json': exampleCapture({ serial: 'WRN0A4F2K', model: 'NT10-21' }),
        'outcomes/117-on-118.json': exampleCapture({ serial: '****4F2K', model: 'NT10-21' }),
      },
    },
    {
      title: 'A masked number and a digest',
      files: {
        ...bench,
        'drives/tern.yaml':
          'kind: drive\nid: d-0117\nfamily: tern-2\nserial: "****2K"\n---\nkind: drive\nid: d-0118\nfamily: tern-2\nserial: digest:5d1c9a0377be42f1\n',
      },
    },
    {
      title: 'Whole numbers, by the decision of the shop',
      files: {
        ...bench,
        'swaplore.yaml': 'swaplore: 1\nserials: full\n',
        'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\nserial: WRN0A4F2K\n',
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (snapshot.config.serials === 'full') return;
    for (const found of recordedSerialsOf(record)) if (!isMaskedSerial(found.serial)) yield describe(record, found);
    if (record.kind === 'outcome') yield* unmaskedCaptures(record, snapshot);
  },
});

/** The number itself is left out of message and help: both end up in logs that more people read than the file. */
function describe(record: AnyRecord, { serial, path, column }: RecordedSerial): Draft {
  const where = column === undefined ? `of drive \`${record.id}\`` : `under \`${column}\` of outcome \`${record.id}\``;
  return {
    at: { record, path, side: 'value' },
    message: `Serial number ${where} is not masked, but this base keeps serial numbers masked, as \`****\` with the last 1 to 4 characters or as a keyed digest.`,
    help: helpFor(serial),
    fixes: fixesOf(path, serial),
  };
}

function helpFor(serial: string): string {
  if (serial.startsWith('digest:')) return 'Give the digest 16 to 64 hex digits.';
  const masked = maskedSerial(serial);
  if (masked === undefined) return 'Add the last 1 to 4 characters after the stars.';
  return `Write \`"${masked}"\`, with the quotes.`;
}

function fixesOf(path: Path, serial: string): readonly DraftFix[] {
  const masked = serial.startsWith('digest:') ? undefined : maskedSerial(serial);
  if (masked === undefined) return [];
  return [{ title: `Mask it as \`"${masked}"\``, kind: 'fix', changes: [{ intent: 'set', path, value: masked }] }];
}
