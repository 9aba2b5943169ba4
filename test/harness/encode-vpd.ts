/** A name in VPD page 83h. */
export interface DesignatorInput {
  /** 0 vendor, 1 T10, 2 EUI-64, 3 NAA, 8 name string. */
  readonly type: number;
  /** 1 binary, 2 ASCII, 3 UTF-8. */
  readonly codeSet: number;
  /** 0 the logical unit, 1 a target port, 2 the target device. */
  readonly association?: number;
  readonly content: Uint8Array;
}

/** A page of vital product data with its header. Source of the layout: SPC, as sg_vpd 1.46 reads it. */
export function encodeVpd(page: number, content: Uint8Array): Uint8Array {
  return Uint8Array.from([0, page, content.length >> 8, content.length & 0xff, ...content]);
}

/** Page 83h. */
export function encodeVpd83(designators: readonly DesignatorInput[]): Uint8Array {
  const parts = designators.map(({ type, codeSet, association = 0, content }) => [
    codeSet,
    association * 16 + type,
    0,
    content.length,
    ...content,
  ]);
  return encodeVpd(0x83, Uint8Array.from(parts.flat()));
}

/** Page 89h around an answer to IDENTIFY DEVICE. Source of the layout: Linux, drivers/ata/libata-scsi.c. */
export function encodeVpd89(identify: Uint8Array): Uint8Array {
  const content = new Uint8Array(568);
  content.set(asciiBytes('linux   libata          3.00'), 4);
  content.set([0x34, 0, 0x50, 0, 1], 32);
  content[52] = 0xec;
  content.set(identify, 56);
  return encodeVpd(0x89, content);
}

/** The bytes of an ASCII text. */
export function asciiBytes(text: string): Uint8Array {
  return Uint8Array.from(text, (character) => character.charCodeAt(0));
}

/** The bytes that hexadecimal digits write. */
export function hexBytes(digits: string): Uint8Array {
  return Uint8Array.from(digits.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
}
