import type { Decoded } from './decoded.ts';
import { readCapture } from './read-capture.ts';

/** Whether an object is what a capture file holds. */
export function isCapture(json: { readonly [key: string]: unknown }): boolean {
  return 'capture' in json && 'values' in json;
}

/** Decodes a capture file: the values of all its sources together. */
export function decodeCapture(bytes: Uint8Array): Decoded {
  const { values, problems, faults } = readCapture(bytes);
  const own = problems.map(({ severity, message, source }) => ({
    severity,
    message: source === undefined ? message : `\`${source}\`: ${message}`,
  }));
  const broken = {
    severity: 'error',
    message: 'It breaks the form of capture files, so that values may be missing.',
  } as const;
  return { format: 'capture', values, problems: faults.length > 0 ? [broken, ...own] : own, unnamed: [] };
}
