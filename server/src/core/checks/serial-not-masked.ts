import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord, OutcomeRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import { type Draft, defineCheck } from './define-check.ts';

const bench = {
  'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
};

/** A whole serial number in a base that keeps them masked. */
export const serialNotMasked = defineCheck({
  check: 'serial-not-masked',
  group: 'record',
  severity: 'error',
  scope: 'record',
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
    for (const { serial, path, where } of serialsIn(record)) {
      if (!isMasked(serial)) yield describe(record, serial, path, where);
    }
  },
});

interface Found {
  readonly serial: string;
  readonly path: Path;
  /** Completes "Serial number …". */
  readonly where: string;
}

function* serialsIn(record: AnyRecord): Generator<Found> {
  if (record.kind === 'drive' && record.data.serial !== undefined) {
    yield { serial: record.data.serial, path: ['serial'], where: `of drive \`${record.id}\`` };
  }
  if (record.kind === 'outcome') yield* serialsInRows(record);
}

const columns = ['patient_before', 'donor_before', 'after', 'other_after'] as const;

function* serialsInRows(outcome: OutcomeRecord): Generator<Found> {
  for (const [position, row] of (outcome.data.identity ?? []).entries()) {
    if (row.value !== 'serial') continue;
    for (const column of columns) {
      const serial = row[column];
      const where = `under \`${column}\` of outcome \`${outcome.id}\``;
      if (typeof serial === 'string') yield { serial, path: ['identity', position, column], where };
    }
  }
}

/** `****` with 1 to 4 characters, or `digest:` with 16 to 64 hex digits. */
function isMasked(serial: string): boolean {
  return /^\*{4}.{1,4}$|^digest:[0-9a-f]{16,64}$/isu.test(serial.trim());
}

/** The number itself is left out of message and help: both end up in logs that more people read than the file. */
function describe(record: AnyRecord, serial: string, path: Path, where: string): Draft {
  return {
    at: { record, path, side: 'value' },
    message: `Serial number ${where} is not masked, but this base keeps serial numbers masked, as \`****\` with the last 1 to 4 characters or as a keyed digest.`,
    help: helpFor(serial),
  };
}

function helpFor(serial: string): string {
  if (serial.startsWith('digest:')) return 'Give the digest 16 to 64 hex digits.';
  const tail = [...serial.replace(/[\s*]+/g, '')].slice(-4).join('');
  return tail === '' ? 'Add the last 1 to 4 characters after the stars.' : `Write \`"****${tail}"\`, with the quotes.`;
}
