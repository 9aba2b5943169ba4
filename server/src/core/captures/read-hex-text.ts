/** Bytes written out as text. */
export interface HexText {
  readonly bytes: Uint8Array;
  /** How they were written: as words, the higher byte first, or one by one. */
  readonly unit: 'words' | 'bytes';
}

/** Lines before the first digits that name what follows, as hdparm prints one. */
const longestHeading = 3;

const line = { words: /^[0-9a-f]{4}(?:[\s,]+[0-9a-f]{4})*,?$/i, bytes: /^[0-9a-f]{2}(?:[\s,]+[0-9a-f]{2})*,?$/i };

/**
 * Reads words of four hexadecimal digits, as `hdparm --Istdout` and Linux in `/sys/class/ata_device/dev1.0/id` print them, or bytes of two.
 * Ends at the first line of anything else. Undefined where no line of digits stands at the beginning.
 */
export function readHexText(text: string): HexText | undefined {
  const bytes: number[] = [];
  let unit: HexText['unit'] | undefined;
  let headings = 0;
  for (const one of text.split(/[\r\n]/)) {
    const trimmed = one.trim();
    if (trimmed === '') continue;
    if (unit === undefined) {
      unit = line.words.test(trimmed) ? 'words' : line.bytes.test(trimmed) ? 'bytes' : undefined;
      headings += 1;
      if (unit === undefined && headings > longestHeading) return undefined;
      if (unit === undefined) continue;
    } else if (!line[unit].test(trimmed)) break;
    for (const [digits] of trimmed.matchAll(/[0-9a-f]+/gi)) {
      const number = Number.parseInt(digits, 16);
      if (unit === 'bytes') bytes.push(number);
      else bytes.push(number & 0xff, number >> 8);
    }
  }
  return unit && { bytes: Uint8Array.from(bytes), unit };
}
