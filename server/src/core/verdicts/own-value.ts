import type { DriveRecord, OutcomeRecord } from '../model/record.ts';
import { exactBytes, fitsNominal, isMismatch } from '../terms/capacity.ts';
import { isSameSerial } from '../terms/same-serial.ts';
import { isSameWwn } from '../terms/wwn.ts';
import { foldText } from '../text/fold.ts';
import { capacityFactsOf, type DriveContext, type PairContext } from './drive-context.ts';
import type { Report } from './identity-rows.ts';

/** What a drive's own record says of a value that an assembly reported as this drive's. */
export interface OwnValue {
  readonly side: 'patient' | 'donor';
  readonly drive: DriveRecord;
  /** Key of the drive. */
  readonly key: string;
  readonly value: string | number;
  /** Whether the report can be of this drive; undefined where it cannot be seen. */
  readonly fits: boolean | undefined;
}

/** What the drive that reported a value says of it in its own record; undefined where nothing can be held against it. */
export function ownValueOf(report: Report, pair: PairContext, outcome: OutcomeRecord): OwnValue | undefined {
  const owner = ownerOf(report, pair, outcome);
  const own = owner && heldAgainst(report, owner.context);
  return own && { ...own, side: owner.side, drive: owner.context.drive };
}

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

type Held = Pick<OwnValue, 'key' | 'value' | 'fits'>;

/** Its `firmware` is that of the label, which an update leaves behind, and counters move on, so these say nothing. */
function heldAgainst({ value, reported }: Report, context: DriveContext): Held | undefined {
  const { serial, wwn, model } = context.drive.data;
  const text = String(reported);
  switch (value) {
    case 'capacity':
      return ownCapacity(Number(reported), context);
    case 'serial':
      return serial === undefined ? undefined : { key: 'serial', value: serial, fits: isSameSerial(text, serial) };
    case 'wwn':
      return wwn === undefined ? undefined : { key: 'wwn', value: wwn, fits: isSameWwn(text, wwn) };
    case 'model':
      return model === undefined ? undefined : { key: 'model', value: model, fits: holds(text, model) };
    default:
      return undefined;
  }
}

/** Drives put the maker's name before the model, or leave off what stands behind it on the label. */
function holds(reported: string, printed: string): boolean {
  if (reported === printed) return true;
  const a = foldText(reported);
  const b = foldText(printed);
  return a.includes(b) || b.includes(a);
}

/** Bytes of a sector. Source: ATA and SCSI drives as sold, with and without protection information; common practice, no source. */
const sectorSizes = [512, 520, 528, 4096, 4160, 4224];

/** The row may count sectors, bytes or GB. Nothing is shown by a drive that answers 0, or one with a part hidden. */
function ownCapacity(reported: number, context: DriveContext): Held | undefined {
  const facts = capacityFactsOf(context);
  const { lbaCount, nominalGb } = facts;
  if (reported === 0 || context.drive.data.host_protected === true) return undefined;
  if (reported === lbaCount) return { key: 'lba_count', value: lbaCount, fits: true };
  const readings = [reported, reported * 1e9, ...sectorSizes.map((size) => reported * size)];
  const isNominal = nominalGb !== undefined && readings.some((bytes) => fitsNominal(bytes, nominalGb));
  // Where the drive's record contradicts itself, that was reported, and a row that follows either half is no second fault.
  if (isNominal && isMismatch(facts)) return undefined;
  if (lbaCount !== undefined) {
    const bytes = exactBytes(facts);
    // Without a sector size a number of bytes cannot be told from a wrong number of sectors, unless it is smaller.
    const mayBeBytes = bytes === undefined && reported > lbaCount;
    const isGb = nominalGb !== undefined && reported === nominalGb;
    const fits = reported === bytes || isGb || (mayBeBytes ? undefined : false);
    return { key: 'lba_count', value: lbaCount, fits };
  }
  if (nominalGb === undefined) return undefined;
  return { key: 'capacity_gb', value: nominalGb, fits: isNominal };
}
