import { hexOf } from './bytes.ts';
import type { CaptureDraft } from './capture-draft.ts';

/** Bytes before the content of a VPD page: device type, page, length. */
const headerBytes = 4;

/** A page of vital product data, by its header. Source: SPC, as sg_vpd 1.46 reads it. */
export interface VpdPage {
  readonly page: 0x80 | 0x83 | 0x89;
  /** Bytes of content that the header announces. */
  readonly announced: number;
  /** The content that is there. */
  readonly content: Uint8Array;
  /** What stands behind it. */
  readonly rest: Uint8Array;
}

/** The page that bytes begin with; undefined where they begin with none of those that can be read. */
export function findVpdPage(bytes: Uint8Array): VpdPage | undefined {
  const [type = 0, page, high = 0, low = 0] = bytes;
  if (bytes.length < headerBytes || type >> 5 === 2 || type >> 5 > 3) return undefined;
  if (page !== 0x80 && page !== 0x83 && page !== 0x89) return undefined;
  const announced = high * 256 + low;
  const end = headerBytes + announced;
  return { page, announced, content: bytes.subarray(headerBytes, end), rest: bytes.subarray(end) };
}

/** Says where a page was cut short, and keeps what stands behind it. Zeros there are the rest of a buffer. */
export function readLength({ content, announced, rest }: VpdPage, draft: CaptureDraft): void {
  if (content.length < announced) {
    const total = headerBytes + announced;
    draft.fail(`Only ${headerBytes + content.length} of ${total} bytes are there: the page was cut short.`);
  }
  if (rest.some((byte) => byte !== 0)) draft.keep({ at: 'behind the page', value: hexOf(rest) });
}
