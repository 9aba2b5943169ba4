import { captureOf } from '../../server/src/core/captures/capture-file.ts';
import type { CaptureValues } from '../../server/src/core/captures/decoded.ts';
import type { SerialPolicy } from '../../server/src/core/captures/mask-serials.ts';
import { captureText } from '../../server/src/core/captures/write-capture.ts';
import { outcome, ternBench } from './tern-bench.ts';

/** The full serial numbers of the two drives, which a base that masks them never shows. */
export const fullSerials = { patient: 'WRN0A4F2K', donor: 'WRN0B9Q1C' };

/** What the two drives reported before, and what the patient's platters reported through the donor's board. */
export const tracedDrives = {
  patient: {
    serial: fullSerials.patient,
    wwn: '5027ce1b9d229a27',
    model: 'TNS2-500',
    firmware: '1.02',
    lbaCount: 976_773_168,
    logicalSectorBytes: 512,
    powerOnHours: 18_250,
    reallocated: 4,
    transport: 'sata',
  },
  donor: {
    serial: fullSerials.donor,
    wwn: '5027ce1cbd868eb8',
    model: 'TNS2-500',
    firmware: '1.07',
    lbaCount: 976_773_168,
    logicalSectorBytes: 512,
    powerOnHours: 21_480,
    reallocated: 0,
    transport: 'sata',
  },
  after: {
    serial: fullSerials.patient,
    wwn: '5027ce1b9d229a27',
    model: 'TNS2-500',
    firmware: '1.07',
    lbaCount: 976_773_168,
    logicalSectorBytes: 512,
    powerOnHours: 18_251,
    reallocated: 4,
    transport: 'sata',
  },
} as const satisfies Readonly<Record<string, CaptureValues>>;

/** These values as the JSON that smartctl prints. */
export function smartctlText(values: CaptureValues): string {
  const { serial, wwn = '', model, firmware, lbaCount, logicalSectorBytes, powerOnHours, reallocated } = values;
  return JSON.stringify({
    smartctl: { exit_status: 0 },
    device: { protocol: 'ATA', type: values.transport === 'usb' ? 'usbasm1352r' : 'sat' },
    serial_number: serial,
    model_name: model,
    firmware_version: firmware,
    wwn: {
      naa: Number.parseInt(wwn.slice(0, 1), 16),
      oui: Number.parseInt(wwn.slice(1, 7), 16),
      id: Number.parseInt(wwn.slice(7), 16),
    },
    user_capacity: { blocks: lbaCount },
    logical_block_size: logicalSectorBytes,
    sata_version: values.transport === 'sata' ? { string: 'SATA 3.0' } : undefined,
    power_on_time: { hours: powerOnHours },
    ata_smart_attributes: { table: [{ id: 5, raw: { value: reallocated } }] },
  });
}

/** These values as a capture file, with masked serial numbers unless the policy is another. */
export function capturedText(values: CaptureValues, taken = '2026-03-14', serials: SerialPolicy = 'masked'): string {
  const bytes = new TextEncoder().encode(smartctlText(values));
  return captureText(captureOf({ sources: [{ name: 'smartctl', bytes }], taken, serials }));
}

/** A base whose outcome `traced` names three captures and has some identity rows. */
export function tracedBench(rows = ''): Readonly<Record<string, string>> {
  const captures =
    'captures: {patient_before: ../captures/a.json, donor_before: ../captures/b.json, after: ../captures/c.json}\n';
  return {
    ...ternBench,
    'families/tern.yaml': `${ternBench['families/tern.yaml']}identity: {serial: platters, firmware: platters}\n`,
    'captures/a.json': capturedText(tracedDrives.patient),
    'captures/b.json': capturedText(tracedDrives.donor),
    'captures/c.json': capturedText(tracedDrives.after),
    'outcomes/traced.yaml': `${outcome('traced', 'left').replace('reached', `${rows}${captures}reached`)}`,
  };
}
