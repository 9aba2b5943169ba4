import type { IdentityValue } from '../../../../schemas/gen/records.ts';
import { type Report, reportsOf } from '../verdicts/identity-rows.ts';
import type { HoverContext } from './hover-context.ts';

/** What an assembly reported, where the value at hand is that in an outcome's identity rows. */
export function reportedAt({ record, path }: HoverContext): Report | undefined {
  if (record?.kind !== 'outcome' || path[0] !== 'identity') return undefined;
  return reportsOf(record).find((report) => path.every((step, depth) => report.path[depth] === step));
}

/** Whether the value at hand is of this sort: a drive's own under that key, or one that an assembly reported. */
export function isOwnOrReported(context: HoverContext, key: string & IdentityValue): boolean {
  const { record, path } = context;
  return (record?.kind === 'drive' && path.length === 1 && path[0] === key) || reportedAt(context)?.value === key;
}
