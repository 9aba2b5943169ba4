/**
 * VPD page 83h: the names under which a drive and its ports are known.
 * Laws (test/property/decode-vpd.property.test.ts):
 * - of many designators the world-wide name is the logical unit's, in whichever order they come
 * - a page cut anywhere is never read further than it goes
 */
import { parseWwn } from '../terms/wwn.ts';
import { asciiText, charactersOf, hexOf } from './bytes.ts';
import { CaptureDraft } from './capture-draft.ts';
import type { Decoded } from './decoded.ts';
import { readLength, type VpdPage } from './vpd-page.ts';

/** One name in the page. Source: SPC, as sg_vpd 1.46 reads it. */
interface Designator {
  /** Counted from 1. */
  readonly position: number;
  /** 1 binary, 2 ASCII, 3 UTF-8. */
  readonly codeSet: number;
  readonly type: number;
  /** What it names: 0 the logical unit, which is the drive. */
  readonly association: number;
  readonly content: Uint8Array;
}

const types = { vendor: 0, t10: 1, naa: 3, nameString: 8 } as const;

const associations = ['', ' (target port)', ' (target device)', ' (reserved)'];

/** Decodes the page. Never throws. */
export function decodeVpd83(page: VpdPage): Decoded {
  const draft = new CaptureDraft();
  readLength(page, draft);
  const designators = designatorsOf(page, draft);
  const own = designators.filter(({ association }) => association === 0);
  const taken = new Set([...readWwn(own, draft), ...readAtaTexts(own, draft)]);
  for (const designator of designators) {
    if (!taken.has(designator)) keep(designator, draft);
  }
  if (page.announced === 0) draft.warn('The page holds no names.');
  return draft.done('vpd_83');
}

function designatorsOf({ content, announced }: VpdPage, draft: CaptureDraft): readonly Designator[] {
  const designators: Designator[] = [];
  for (let at = 0; at < content.length; ) {
    const [codes = 0, kinds = 0, , length = 0] = content.subarray(at, at + 4);
    const end = at + 4 + length;
    const position = designators.length + 1;
    if (end > content.length) {
      if (content.length === announced) draft.fail(`Designator ${position} reaches beyond the end of the page.`);
      break;
    }
    designators.push({
      position,
      codeSet: codes & 0xf,
      type: kinds & 0xf,
      association: (kinds >> 4) & 3,
      content: content.subarray(at + 4, end),
    });
    at = end;
  }
  return designators;
}

/** Sets the world-wide name: of several the one Linux prefers. Gives the designators that say the same. */
function readWwn(own: readonly Designator[], draft: CaptureDraft): readonly Designator[] {
  const names = own.flatMap((designator) => {
    const name = nameOf(designator);
    return name === undefined ? [] : [{ designator, ...name }];
  });
  // Source of the order: Linux, drivers/scsi/scsi_lib.c, scsi_vpd_lun_id; NAA 3 last, since it says nothing of the maker.
  const order = ['6', '5', '2', '3'];
  const [best] = names.toSorted(
    (a, b) =>
      Number(b.isString) - Number(a.isString) || order.indexOf(a.digits.charAt(0)) - order.indexOf(b.digits.charAt(0)),
  );
  if (best === undefined) return [];
  draft.values.wwn = best.digits;
  const rival = names.find(
    ({ digits, isString }) =>
      digits !== best.digits && isString === best.isString && digits.charAt(0) === best.digits.charAt(0),
  );
  if (rival) {
    draft.fail(`The drive gives itself two world-wide names of one kind, \`${best.digits}\` and \`${rival.digits}\`.`);
  }
  return names.filter(({ digits }) => digits === best.digits).map(({ designator }) => designator);
}

function nameOf({ type, codeSet, content }: Designator): { digits: string; isString: boolean } | undefined {
  const isString = type === types.nameString && codeSet === 3;
  if (!isString && (type !== types.naa || codeSet !== 1)) return undefined;
  const text = isString ? (asciiText(content) ?? '') : hexOf(content);
  if (isString && !/^naa\./i.test(text)) return undefined;
  const wwn = parseWwn(text);
  return 'says' in wwn ? undefined : { digits: wwn.digits, isString };
}

/** Vendor, model and serial number where an ATA drive is translated. Source: Linux, drivers/ata/libata-scsi.c. */
const ata = { vendor: 8, model: 40, serial: 20 };

/** Sets model and serial number where the page is about an ATA drive. Gives the designators that say so. */
function readAtaTexts(own: readonly Designator[], draft: CaptureDraft): readonly Designator[] {
  const t10 = own.find(
    ({ type, content }) =>
      type === types.t10 &&
      content.length === ata.vendor + ata.model + ata.serial &&
      asciiText(content.subarray(0, ata.vendor)) === 'ATA',
  );
  if (t10 === undefined) return [];
  const model = asciiText(t10.content.subarray(ata.vendor, ata.vendor + ata.model));
  const serial = asciiText(t10.content.subarray(ata.vendor + ata.model));
  if (model === undefined || serial === undefined) return [];
  draft.set('model', model || undefined);
  draft.set('serial', serial || undefined);
  return [t10, ...own.filter(({ type, content }) => type === types.vendor && asciiText(content) === serial)];
}

function keep(designator: Designator, draft: CaptureDraft): void {
  const { position, association, codeSet, type, content } = designator;
  const text = codeSet === 1 ? undefined : asciiText(content);
  const field = { at: `designator ${position}${associations[association]}`, value: text || hexOf(content) };
  const isOwners = association === 0 && (type === types.vendor || type === types.t10);
  // Behind the vendor, most have model and serial number, and nothing says where one ends.
  if (isOwners) draft.keepLikelySerial(field, charactersOf(content.subarray(type === types.t10 ? ata.vendor : 0)));
  else draft.keep(field);
}
