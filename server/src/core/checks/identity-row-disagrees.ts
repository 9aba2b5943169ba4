import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord, OutcomeRecord } from '../model/record.ts';
import { exactBytes, fitsNominal, isMismatch } from '../terms/capacity.ts';
import { isSameSerial } from '../terms/same-serial.ts';
import { isSameWwn } from '../terms/wwn.ts';
import { foldText } from '../text/fold.ts';
import { capacityFactsOf, type DriveContext, type PairContext, pairOf } from '../verdicts/drive-context.ts';
import { type Report, reportsOf } from '../verdicts/identity-rows.ts';
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
    const seen: Report[] = [];
    for (const report of reportsOf(record)) {
      const owner = ownerOf(report, pair, record);
      const draft = (owner && againstDrive(record, report, owner)) ?? againstRows(record, report, seen);
      if (draft) yield draft;
      else seen.push(report);
    }
  },
});

interface Owner {
  readonly side: 'patient' | 'donor';
  readonly context: DriveContext;
}

/** The drive whose record a value can be held against. A bridge may answer in its own name, so behind one there is none. */
function ownerOf({ column }: Report, { patient, donor }: PairContext, outcome: OutcomeRecord): Owner | undefined {
  if (outcome.data.host?.port === 'usb_bridge') return undefined;
  if (column === 'patient_before') return patient && { side: 'patient', context: patient };
  return column === 'donor_before' && donor ? { side: 'donor', context: donor } : undefined;
}

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

function againstDrive(record: OutcomeRecord, report: Report, { side, context }: Owner): Draft | undefined {
  const { value, reported, column, path } = report;
  if (!isComparable(value)) return undefined;
  const own = ownValue(value, reported, context);
  if (own === undefined || own.fits !== false) return undefined;
  const { drive } = context;
  return {
    at: { record, path, side: 'value' },
    message: `${names[value]} \`${reported}\` in \`${column}\` is not that of ${side} \`${drive.id}\`, which is \`${own.value}\`.`,
    related: [{ at: { record: drive, path: [own.key], side: 'value' }, message: `The ${side}'s own record.` }],
  };
}

interface OwnValue {
  readonly key: string;
  readonly value: string | number;
  /** Undefined where it cannot be seen. */
  readonly fits: boolean | undefined;
}

/** What a drive's record says of a value. Its `firmware` is that of the label, which an update leaves behind, so it says nothing. */
function ownValue(value: Comparable, reported: string | number, context: DriveContext): OwnValue | undefined {
  const { serial, wwn, model } = context.drive.data;
  if (value === 'capacity') return ownCapacity(Number(reported), context);
  const text = String(reported);
  if (value === 'serial' && serial !== undefined) {
    return { key: 'serial', value: serial, fits: isSameSerial(text, serial) };
  }
  if (value === 'wwn' && wwn !== undefined) return { key: 'wwn', value: wwn, fits: isSameWwn(text, wwn) };
  if (value === 'model' && model !== undefined) return { key: 'model', value: model, fits: holds(text, model) };
  return undefined;
}

/** Drives put the maker's name before the model, or leave off what stands behind it on the label. */
function holds(reported: string, printed: string): boolean {
  const a = foldText(reported);
  const b = foldText(printed);
  return a.includes(b) || b.includes(a);
}

/** The row may count sectors, bytes or GB. Nothing is shown by a drive that answers 0, or one with a part hidden. */
function ownCapacity(reported: number, context: DriveContext): OwnValue | undefined {
  const facts = capacityFactsOf(context);
  const { lbaCount, nominalGb } = facts;
  if (reported === 0 || context.drive.data.host_protected === true) return undefined;
  const sectorSizes = [512, 520, 528, 4096, 4160, 4224];
  const readings = [reported, reported * 1e9, ...sectorSizes.map((size) => reported * size)];
  const isNominal = nominalGb !== undefined && readings.some((bytes) => fitsNominal(bytes, nominalGb));
  // Where the drive's record contradicts itself, that was reported, and a row that follows either half is no second fault.
  if (isNominal && isMismatch(facts)) return undefined;
  if (lbaCount !== undefined) {
    const bytes = exactBytes(facts);
    // Without a sector size a number of bytes cannot be told from a wrong number of sectors, unless it is smaller.
    const mayBeBytes = bytes === undefined && reported > lbaCount;
    const isGb = nominalGb !== undefined && reported === nominalGb;
    const fits = reported === lbaCount || reported === bytes || isGb || (mayBeBytes ? undefined : false);
    return { key: 'lba_count', value: lbaCount, fits };
  }
  if (nominalGb === undefined) return undefined;
  return { key: 'capacity_gb', value: nominalGb, fits: isNominal };
}

/** One value has one row; where it has two, they agree in every column both have. */
function againstRows(record: OutcomeRecord, report: Report, seen: readonly Report[]): Draft | undefined {
  const { value, column, reported, path } = report;
  if (!isComparable(value)) return undefined;
  const other = seen.find(
    (earlier) => earlier.value === value && earlier.column === column && isSame(value, earlier, report) === false,
  );
  if (!other) return undefined;
  return {
    at: { record, path, side: 'value' },
    message: `${names[value]} \`${reported}\` in \`${column}\` is not the \`${other.reported}\` of another row.`,
    help: 'Keep one row for each value.',
    related: [{ at: { record, path: other.path, side: 'value' }, message: 'The other row.' }],
  };
}

function isSame(value: Comparable, { reported: a }: Report, { reported: b }: Report): boolean | undefined {
  if (typeof a !== 'string' || typeof b !== 'string') return a === b;
  if (value === 'serial') return isSameSerial(a, b);
  return value === 'wwn' ? isSameWwn(a, b) : foldText(a) === foldText(b);
}
