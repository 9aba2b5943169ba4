import { isSameReport } from '../captures/follows.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord, OutcomeRecord } from '../model/record.ts';
import { pairOf } from '../verdicts/drive-context.ts';
import { type Report, reportsOf } from '../verdicts/identity-rows.ts';
import { type OwnValue, ownValueOf } from '../verdicts/own-value.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleBase, exampleOutcome } from './example-base.ts';

const drives = `kind: drive
id: d-0117
family: tern-2
serial: "****4F2K"
---
kind: drive
id: d-0118
family: tern-2
serial: "****9Q1C"
`;

/** A reported value that another row or the drive's own record contradicts. */
export const identityRowDisagrees = defineCheck({
  check: 'identity-row-disagrees',
  group: 'record',
  severity: 'error',
  scope: 'record',
  kinds: ['outcome'],
  why: 'Identity rows show which values follow the platters and which the board. A row copied from the wrong drive turns that round, and a family is then said to keep its serial number where it does not.',
  examples: () => [
    {
      title: 'The two drives exchanged by mistake',
      files: {
        ...exampleBase,
        'drives/tern.yaml': drives,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
identity:
  - {value: serial, patient_before: "****9Q1C", after: "****9Q1C"}
#                                   ^^^^^^^^^^ identity-row-disagrees: Serial number \`****9Q1C\` in \`patient_before\` is not that of patient \`d-0117\`, which is \`****4F2K\`.
reached: reads
result: works
`,
      },
    },
    {
      title: 'A shorter tail, which fits',
      files: {
        ...exampleBase,
        'drives/tern.yaml': drives,
        'outcomes/one.yaml': exampleOutcome(
          'identity: [{value: serial, patient_before: "****F2K", after: "****F2K"}]\n',
        ),
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome') return;
    const pair = pairOf(record, snapshot);
    const hasTwoRows = repeatsRow(record);
    const seen: Report[] = [];
    for (const report of reportsOf(record)) {
      const own = ownValueOf(report, pair, record);
      const draft =
        (own?.fits === false && againstDrive(record, report, own)) || (hasTwoRows && againstRows(record, report, seen));
      if (draft) yield draft;
      else seen.push(report);
    }
  },
});

const names = {
  serial: 'Serial number',
  wwn: 'World-wide name',
  model: 'Model name',
  firmware: 'Firmware',
  capacity: 'Capacity',
} as const;

type Comparable = keyof typeof names;

/** Counters move on between two looks at a drive, so they are left out. */
function isComparable(value: string): value is Comparable {
  return Object.hasOwn(names, value);
}

function againstDrive(
  record: OutcomeRecord,
  { value, reported, column, path }: Report,
  own: OwnValue,
): Draft | undefined {
  if (!isComparable(value)) return undefined;
  const { side, drive } = own;
  return {
    at: { record, path, side: 'value' },
    message: `${names[value]} \`${reported}\` in \`${column}\` is not that of ${side} \`${drive.id}\`, which is \`${own.value}\`.`,
    related: [{ at: { record: drive, path: [own.key], side: 'value' }, message: `The ${side}'s own record.` }],
  };
}

/** Whether one value has several rows, which hardly any outcome has. */
function repeatsRow({ data: { identity = [] } }: OutcomeRecord): boolean {
  return new Set(identity.map(({ value }) => value)).size < identity.length;
}

/** One value has one row; where it has two, they agree in every column both have. */
function againstRows(record: OutcomeRecord, report: Report, seen: readonly Report[]): Draft | undefined {
  const { value, column, reported, path } = report;
  if (!isComparable(value)) return undefined;
  const other = seen.find(
    (earlier) =>
      earlier.value === value && earlier.column === column && isSameReport(value, earlier.reported, reported) === false,
  );
  if (!other) return undefined;
  return {
    at: { record, path, side: 'value' },
    message: `${names[value]} \`${reported}\` in \`${column}\` is not the \`${other.reported}\` of another row.`,
    help: 'Keep one row for each value.',
    related: [{ at: { record, path: other.path, side: 'value' }, message: 'The other row.' }],
  };
}
