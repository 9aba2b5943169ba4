/** Pages of vital product data, as Linux keeps them in files such as `vpd_pg80`. */
import { asciiText, charactersOf, hexOf } from './bytes.ts';
import { CaptureDraft } from './capture-draft.ts';
import { decodeIdentify, identifyBytes } from './decode-identify.ts';
import { decodeVpd83 } from './decode-vpd-83.ts';
import type { Decoded } from './decoded.ts';
import { readLength, type VpdPage } from './vpd-page.ts';

/** Decodes the page. Never throws. */
export function decodeVpd(page: VpdPage): Decoded {
  switch (page.page) {
    case 0x80:
      return decodeVpd80(page);
    case 0x83:
      return decodeVpd83(page);
    case 0x89:
      return decodeVpd89(page);
  }
}

/** Page 80h: the serial number of the unit. */
function decodeVpd80(page: VpdPage): Decoded {
  const draft = new CaptureDraft();
  readLength(page, draft);
  const serial = asciiText(page.content);
  if (serial === undefined) {
    draft.warn('The serial number holds characters that are no printable ASCII, so that it was not taken.');
    draft.keepLikelySerial({ at: 'serial number', value: hexOf(page.content) }, charactersOf(page.content));
  } else if (serial !== '') draft.values.serial = serial;
  else if (page.content.length === page.announced) draft.warn('The page holds no serial number.');
  return draft.done('vpd_80');
}

/** Where things stand in the content of page 89h. Source: Linux, drivers/ata/libata-scsi.c. */
const translator = { from: 4, to: 32 };
const commandAt = 52;
const identifyAt = 56;

/** IDENTIFY DEVICE, the command whose answer page 89h holds. */
const identifyCommand = 0xec;

/** Page 89h: what translates between SCSI and ATA, and the drive's own answer to IDENTIFY DEVICE. */
function decodeVpd89(page: VpdPage): Decoded {
  const draft = new CaptureDraft();
  const { content } = page;
  readLength(page, draft);
  const named = asciiText(content.subarray(translator.from, translator.to))?.replace(/ +/g, ' ');
  if (named) draft.keep({ at: 'translator', value: named });
  const command = content[commandAt];
  if (command !== undefined && command !== identifyCommand) {
    draft.fail('The page holds the answer to another command than IDENTIFY DEVICE, so that no value was taken.');
    return draft.done('vpd_89');
  }
  const identify = content.subarray(identifyAt, identifyAt + identifyBytes);
  if (identify.length < identifyBytes) {
    if (content.length >= page.announced) draft.fail('The page is too short to hold an answer to IDENTIFY DEVICE.');
  } else if (identify.every((byte) => byte === 0)) {
    draft.fail('The answer to IDENTIFY DEVICE in the page is all zeros: nothing was reported.');
    return draft.done('vpd_89');
  }
  return joined(draft, identify);
}

function joined(draft: CaptureDraft, identify: Uint8Array): Decoded {
  const { problems, unnamed, ...decoded } = decodeIdentify(identify);
  const page = draft.done('vpd_89');
  // That a page is too short, or was cut short, is said once.
  const own = identify.length === identifyBytes ? problems : [];
  return {
    ...decoded,
    format: page.format,
    problems: [...page.problems, ...own],
    unnamed: [...page.unnamed, ...unnamed],
  };
}
