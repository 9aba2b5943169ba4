/** Bytes written out as text. */
export interface HexText {
  readonly bytes: Uint8Array;
  /** How they were written: as words, the higher byte first, or one by one. */
  readonly unit: 'words' | 'bytes';
}

/** Lines before the first digits that name what follows, as hdparm prints one. */
const longestHeading = 3;

const lineOf = { words: /^[0-9a-f]{4}(?:[\s,]+[0-9a-f]{4})*,?$/i, bytes: /^[0-9a-f]{2}(?:[\s,]+[0-9a-f]{2})*,?$/i };

/**
 * Reads words of four hexadecimal digits, as `hdparm --Istdout` and Linux in `/sys/class/ata_device/dev1.0/id` print them, or bytes of two.
 * Ends at the first line of anything else. Undefined where no line of digits stands at the beginning.
 */
export function readHexText(text: string): HexText | undefined {
  const lines = text.split(/\r\n?|\n/).map((line) => line.trim());
  const filled = lines.filter((line) => line !== '');
  const start = filled.findIndex((line) => lineOf.words.test(line) || lineOf.bytes.test(line));
  if (start < 0 || start > longestHeading) return undefined;
  const unit = lineOf.words.test(filled[start] ?? '') ? 'words' : 'bytes';
  const end = filled.findIndex((line, position) => position > start && !lineOf[unit].test(line));
  const digits = filled.slice(start, end < 0 ? undefined : end).flatMap((line) => line.split(/[\s,]+/).filter(Boolean));
  const bytes = digits.flatMap((token) => {
    const number = Number.parseInt(token, 16);
    return unit === 'bytes' ? [number] : [number & 0xff, number >> 8];
  });
  return { bytes: Uint8Array.from(bytes), unit };
}
