import type { OutcomeRecord } from '../model/record.ts';
import type { Report } from '../verdicts/identity-rows.ts';
import type { Draft } from './define-check.ts';

/** The place of a reported value, in the row or at the name of the capture, with the exact place in the capture beside it. */
export function spotOf(record: OutcomeRecord, { path, captured }: Report): Required<Pick<Draft, 'at' | 'related'>> {
  const at = { record, path, side: 'value' } as const;
  if (captured === undefined) return { at, related: [] };
  return { at, related: [capturedSpot(captured)] };
}

/** The place of a value in a capture. */
export function capturedSpot({
  capture,
  path,
}: NonNullable<Report['captured']>): NonNullable<Draft['related']>[number] {
  return { at: { file: capture.file, document: 0, path, side: 'value' }, message: 'The value in the capture.' };
}
