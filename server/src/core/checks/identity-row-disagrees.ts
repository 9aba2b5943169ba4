import type { IdentityValue } from '../../../../schemas/gen/records.ts';
import { isSameReport } from '../captures/follows.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord, OutcomeRecord } from '../model/record.ts';
import { pairOf } from '../verdicts/drive-context.ts';
import type { Column, Report } from '../verdicts/identity-rows.ts';
import { allReportsOf, type CapturedReport, capturedReports, isThroughUsb } from '../verdicts/outcome-captures.ts';
import { type OwnValue, ownValueOf } from '../verdicts/own-value.ts';
import { contradictingCapture, describeContradiction } from './against-captures.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleBase, exampleCapture, exampleOutcome } from './example-base.ts';
import { quotedReport } from './quoted-report.ts';
import { spotOf } from './report-spot.ts';

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
    {
      title: 'A row that is not what the capture says, and a capture of another drive',
      files: {
        ...exampleBase,
        'drives/tern.yaml': drives,
        'outcomes/one.yaml': exampleOutcome(`identity: [{value: firmware, after: "1.02"}]
#                                   ^^^^^^ identity-row-disagrees: Firmware \`1.02\` in \`after\` is not the \`1.07\` of capture \`117-on-118.json\`.
captures:
  donor_before: 119a.json
#               ^^^^^^^^^ identity-row-disagrees: Serial number \`****7T0B\` in the capture of \`donor_before\` is not that of donor \`d-0118\`, which is \`****9Q1C\`.
  after: 117-on-118.json
`),
        'outcomes/119a.json': exampleCapture({ serial: '****7T0B', model: 'NT10-21' }),
        'outcomes/117-on-118.json': exampleCapture({ firmware: '1.07', powerOnHours: 18250 }),
      },
    },
    {
      title: 'A tail that fits the drive, and hours read off a day after',
      files: {
        ...exampleBase,
        'drives/tern.yaml': drives,
        'outcomes/one.yaml': exampleOutcome(
          'identity: [{value: power_on_hours, after: 18274}]\ncaptures: {patient_before: 117a.json, after: 117-on-118.json}\n',
        ),
        'outcomes/117a.json': exampleCapture({ serial: '****F2K' }),
        'outcomes/117-on-118.json': exampleCapture({ powerOnHours: 18250 }),
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'outcome') return;
    const pair = pairOf(record, snapshot);
    const hasTwoRows = repeatsRow(record);
    const captured = capturedReports(record, snapshot);
    const seen: Report[] = [];
    const told = new Set<Column>();
    for (const report of allReportsOf(record, snapshot)) {
      // A capture of another drive differs in all it says, and one word of that is enough.
      if (report.captured && told.has(report.column)) continue;
      const own = ownValueOf(report, pair, record);
      const draft =
        (own?.fits === false && againstDrive(record, report, { own, snapshot })) ||
        (!report.captured && againstCapture(record, report, { captured, snapshot })) ||
        (hasTwoRows && againstRows(record, report, { seen, snapshot }));
      if (draft) {
        told.add(report.column);
        yield draft;
      } else seen.push(report);
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

const counterNames: Readonly<Partial<Record<IdentityValue, string>>> = { power_on_hours: 'Power-on hours' };

type Comparable = keyof typeof names;

/** Counters move on between two looks at a drive, so they are left out. */
function isComparable(value: string): value is Comparable {
  return Object.hasOwn(names, value);
}

function againstDrive(
  record: OutcomeRecord,
  report: Report,
  { own, snapshot }: { readonly own: OwnValue; readonly snapshot: Snapshot },
): Draft | undefined {
  const { value, column, captured } = report;
  // What a capture says of the size is measured against the nominal one by a check of its own.
  if (!isComparable(value) || (captured && own.key === 'capacity_gb')) return undefined;
  const { side, drive } = own;
  const { at, related } = spotOf(record, report);
  const isBridged = captured !== undefined && isThroughUsb(captured.capture);
  const bridge = isBridged ? '; it came through USB, so that a bridge may have answered' : '';
  const [reported, owned] = [report.reported, own.value].map((one) => quotedReport({ value, reported: one }, snapshot));
  const where = captured ? `in the capture of \`${column}\`` : `in \`${column}\``;
  return {
    at,
    message: `${names[value]} \`${reported}\` ${where} is not that of ${side} \`${drive.id}\`, which is \`${owned}\`${bridge}.`,
    related: [
      ...related,
      { at: { record: drive, path: [own.key], side: 'value' }, message: `The ${side}'s own record.` },
    ],
  };
}

function againstCapture(
  record: OutcomeRecord,
  row: Report,
  { captured, snapshot }: { readonly captured: readonly CapturedReport[]; readonly snapshot: Snapshot },
): Draft | undefined {
  const name = isComparable(row.value) ? names[row.value] : counterNames[row.value];
  const other = name === undefined ? undefined : contradictingCapture(record, row, captured);
  return other && name !== undefined
    ? describeContradiction(record, row, { name, other, quoted: quotedReport(row, snapshot) })
    : undefined;
}

/** Whether one value has several rows, which hardly any outcome has. */
function repeatsRow({ data: { identity = [] } }: OutcomeRecord): boolean {
  return new Set(identity.map(({ value }) => value)).size < identity.length;
}

/** One value has one row; where it has two, they agree in every column both have. */
function againstRows(
  record: OutcomeRecord,
  report: Report,
  { seen, snapshot }: { readonly seen: readonly Report[]; readonly snapshot: Snapshot },
): Draft | undefined {
  const { value, column, reported, path } = report;
  if (!isComparable(value)) return undefined;
  const other = seen.find(
    (earlier) =>
      earlier.value === value && earlier.column === column && isSameReport(value, earlier.reported, reported) === false,
  );
  if (!other) return undefined;
  return {
    at: { record, path, side: 'value' },
    message: `${names[value]} \`${quotedReport(report, snapshot)}\` in \`${column}\` is not the \`${quotedReport(other, snapshot)}\` of another row.`,
    help: 'Keep one row for each value.',
    related: [{ at: { record, path: other.path, side: 'value' }, message: 'The other row.' }],
  };
}
