/**
 * The JSON of `smartctl --json`.
 * Source: smartmontools 7, ataprint.cpp and scsiprint.cpp, and its manual for the exit status.
 */
import { parseWwn } from '../terms/wwn.ts';
import { withShortQuotes } from '../text/with-short-quotes.ts';
import { CaptureDraft } from './capture-draft.ts';
import { counters, setCounter } from './decode-smart-data.ts';
import type { Decoded } from './decoded.ts';
import { isJsonMap, JsonFields, type JsonMap } from './json-fields.ts';

/** Decodes the output. Never throws. */
export function decodeSmartctl(root: JsonMap): Decoded {
  const draft = new CaptureDraft();
  const fields = new JsonFields(root);
  readExitStatus(fields, draft);
  readWho(fields, draft);
  readSize(fields, draft);
  readCounters(fields, draft);
  for (const field of fields.rest()) draft.keep(field);
  return draft.done('smartctl_json');
}

/** Whether JSON is the output of smartctl. */
export function isSmartctl(root: JsonMap): boolean {
  return isJsonMap(root['smartctl']) || (isJsonMap(root['device']) && typeof root['device']['protocol'] === 'string');
}

function readExitStatus(fields: JsonFields, draft: CaptureDraft): void {
  const status = fields.count('smartctl.exit_status') ?? 0;
  if (status & 1)
    draft.fail('`smartctl` could not make sense of its command line or of the device, and asked nothing.');
  if (status & 2) draft.fail('`smartctl` could not open the device, or left it asleep.');
  if (status & 4)
    draft.warn('A command to the drive failed, or an answer had a wrong checksum; values may be missing.');
  for (const message of fields.maps('smartctl.messages')) {
    const text = message['string'];
    if (typeof text !== 'string' || (message['severity'] !== 'error' && message['severity'] !== 'warning')) continue;
    draft.warn(withShortQuotes(`\`smartctl\` says: \`${text.trim().replace(/`/g, "'")}\`.`));
    if (/USB bridge/i.test(text))
      draft.fail('A USB bridge stands before the drive, and `smartctl` does not know how to ask through it.');
  }
}

function readWho(fields: JsonFields, draft: CaptureDraft): void {
  draft.set('serial', fields.text('serial_number'));
  draft.set('model', fields.text('model_name') ?? fields.text('scsi_model_name'));
  draft.set('firmware', fields.text('firmware_version') ?? fields.text('scsi_revision'));
  readWwn(fields, draft);
  const protocol = fields.text('device.protocol');
  const type = fields.text('device.type') ?? '';
  const carrier = fields.text('scsi_transport_protocol.name');
  draft.set('transport', transportOf({ fields, type, carrier, protocol }));
  if (protocol !== 'SCSI') return;
  if (/USB|UAS/i.test(`${type} ${carrier ?? ''}`)) {
    draft.fail('A USB bridge answered in the place of the drive: serial number, model and firmware may be its own.');
  } else if (carrier === undefined) {
    draft.warn(
      'It answered as a SCSI device that names no transport, as USB bridges do: the values may be those of a bridge.',
    );
  }
}

interface Way {
  readonly fields: JsonFields;
  readonly type: string;
  readonly carrier: string | undefined;
  readonly protocol: string | undefined;
}

function transportOf({ fields, type, carrier, protocol }: Way): string | undefined {
  if (/^usb/i.test(type) || /USB|UAS/i.test(carrier ?? '')) return 'usb';
  if (carrier !== undefined) return /^SAS/i.test(carrier) ? 'sas' : carrier;
  if (protocol === 'NVMe') return 'nvme';
  if (protocol !== 'ATA') return undefined;
  if (fields.text('sata_version.string') !== undefined) return 'sata';
  return fields.text('pata_version.string') === undefined ? undefined : 'pata';
}

/** The three numbers of an ATA name, or the SCSI name of the logical unit. */
function readWwn(fields: JsonFields, draft: CaptureDraft): void {
  const [naa, oui = 0, id = 0] = fields.counts(['wwn.naa', 'wwn.oui', 'wwn.id']) ?? [];
  const digits =
    naa === undefined
      ? fields.text('logical_unit_id')
      : naa.toString(16) + oui.toString(16).padStart(6, '0') + id.toString(16).padStart(9, '0');
  if (digits === undefined) return;
  const wwn = parseWwn(digits);
  if ('says' in wwn)
    draft.warn(`The world-wide name \`${digits.slice(0, 40)}\` ${wwn.says}, so that it was not taken.`);
  else draft.values.wwn = wwn.digits;
}

function readSize(fields: JsonFields, draft: CaptureDraft): void {
  const logical = fields.count('logical_block_size');
  draft.set('logicalSectorBytes', logical);
  draft.set('physicalSectorBytes', fields.count('physical_block_size') ?? logical);
  const blocks = fields.count('user_capacity.blocks');
  const divided = (fields.count('user_capacity.bytes') ?? Number.NaN) / (logical ?? Number.NaN);
  if (blocks !== undefined) draft.values.lbaCount = blocks;
  else if (Number.isSafeInteger(divided)) draft.values.lbaCount = divided;
  draft.set('rpm', fields.count('rotation_rate'));
  const form = fields.text('form_factor.name');
  draft.set('formFactor', form?.replace(/^(\d+(?:\.\d+)?) inch(?:es)?$/, '$1in').replace(/^< /, 'under '));
}

function readCounters(fields: JsonFields, draft: CaptureDraft): void {
  for (const entry of fields.maps('ata_smart_attributes.table')) {
    const attribute = new JsonFields(entry);
    const id = attribute.count('id');
    const raw = attribute.count('raw.value');
    if (id === undefined) continue;
    // smartctl itself tells hours from what else stands in attribute 9.
    const isTold = counters[id]?.key === 'powerOnHours' && fields.count('power_on_time.hours') !== undefined;
    if (raw !== undefined && (isTold || setCounter(draft, id, raw))) continue;
    draft.keep({ at: `attribute ${id}`, value: JSON.stringify(entry) });
  }
  draft.set('powerOnHours', fields.count('power_on_time.hours'));
  draft.set('powerCycles', fields.count('power_cycle_count'));
  draft.set('reallocated', fields.count('scsi_grown_defect_list'));
  draft.set('pending', fields.count('scsi_pending_defects.count'));
}
