/** The JSON of `lsblk --json`: what Linux knows of the disks of a machine. Source: util-linux, misc-utils/lsblk.c. */
import { parseWwn } from '../terms/wwn.ts';
import { inARow } from '../text/in-a-row.ts';
import { shortName } from '../text/short-name.ts';
import { CaptureDraft, undecoded } from './capture-draft.ts';
import type { Decoded } from './decoded.ts';
import { JsonFields, type JsonMap } from './json-fields.ts';

/** Decodes the output where it lists one disk; of several none is taken. Never throws. */
export function decodeLsblk(root: JsonMap): Decoded {
  const devices = new JsonFields(root).maps('blockdevices');
  const disks = devices.filter(({ type }) => type === 'disk' || type === undefined);
  const [disk, ...others] = disks;
  if (disk === undefined) return undecoded('It lists no disk.', 'lsblk_json');
  return others.length === 0 ? decodeDisk(disk) : undecoded(severalDisks(disks), 'lsblk_json');
}

/** Whether JSON is the output of lsblk. */
export function isLsblk(root: JsonMap): boolean {
  return Array.isArray(root['blockdevices']);
}

/** Names shown of disks that are too many. */
const shownDisks = 8;

function severalDisks(disks: readonly JsonMap[]): string {
  const names = disks.slice(0, shownDisks).map(({ name }) => shortName(typeof name === 'string' ? name : '?'));
  const more = disks.length > names.length ? ' and others' : '';
  return `It lists ${disks.length} disks, ${inARow(names)}${more}, so that nobody can tell which one is meant.`;
}

function decodeDisk(disk: JsonMap): Decoded {
  const draft = new CaptureDraft();
  const fields = new JsonFields(disk);
  draft.set('serial', fields.text('serial'));
  draft.set('model', fields.text('model'));
  draft.set('firmware', fields.text('rev'));
  readWwn(fields, draft);
  const logical = fields.count('log-sec');
  draft.set('logicalSectorBytes', logical);
  draft.set('physicalSectorBytes', fields.count('phy-sec'));
  // Without `-b` the size is a text such as `931.5G`, which says too little.
  const sectors = logical ? (fields.count('size') ?? Number.NaN) / logical : Number.NaN;
  if (Number.isSafeInteger(sectors)) draft.values.lbaCount = sectors;
  if (fields.isOff('rota')) draft.values.rpm = 0;
  const transport = fields.text('tran');
  draft.set('transport', transport);
  if (transport === 'usb') {
    draft.warn('The disk is reached through USB: serial number, model and firmware may be those of a bridge.');
  }
  for (const field of fields.rest()) if (!ofTheOwner.test(field.at)) draft.keep(field);
  return draft.done('lsblk_json');
}

/** What lies on the disk is its owner's, and nothing the drive said. */
const ofTheOwner = /^(?:children|label|uuid|part|pt|mountpoint|fs)/;

function readWwn(fields: JsonFields, draft: CaptureDraft): void {
  const text = fields.text('wwn');
  if (text === undefined) return;
  const wwn = parseWwn(text);
  if ('says' in wwn) draft.keep({ at: 'wwn', value: text });
  else draft.values.wwn = wwn.digits;
}
