import { parseDate } from '../terms/calendar.ts';
import { decodeText } from '../text/decode.ts';
import type { TracedCapture } from './assembly.ts';
import { decode } from './decode.ts';
import { type CaptureFacts, readCapture } from './read-capture.ts';

/** A capture as it is traced, from the bytes of a capture file or of what a drive answered. Never throws. */
export function readTraced(bytes: Uint8Array): TracedCapture {
  if (isCaptureFile(bytes)) return tracedFrom(readCapture(bytes));
  const { values, problems, likelySerials = [] } = decode(bytes);
  return { values, problems, likelySerials };
}

/** A capture as it is traced, from what is known of its file. */
export function tracedFrom({ values, taken, problems, faults, otherSerials = [] }: CaptureFacts): TracedCapture {
  const day = taken === undefined ? undefined : parseDate(taken);
  const fault = { severity: 'error', message: 'The capture file has faults, so values may be missing.' } as const;
  return {
    values,
    taken: day,
    likelySerials: otherSerials.map(({ serial }) => serial),
    problems: [...problems, ...(faults.length > 0 ? [fault] : [])],
  };
}

/** A file of our own begins with its version, as JSON or YAML. */
function isCaptureFile(bytes: Uint8Array): boolean {
  const decoded = decodeText(bytes);
  return 'text' in decoded && /^\s*(?:\{\s*)?"?capture"?\s*:/.test(decoded.text);
}
