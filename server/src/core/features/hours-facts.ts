import { rounded } from '../text/rounded.ts';
import type { HoverFact } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';

/** Hours in a year of 365.25 days. */
const hoursInYear = 8766;

/** Power-on hours as years of running day and night. */
export function hoursFacts({ row, record, path, entry }: HoverContext): readonly HoverFact[] {
  const [list, position] = path;
  const identity = record?.kind === 'outcome' && list === 'identity' ? record.data.identity : undefined;
  const isReported = identity?.[Number(position)]?.value === 'power_on_hours' && row.name !== 'value';
  const hours = Number(entry.text);
  if ((row.name !== 'power_on_hours' && !isReported) || !(hours > 0) || !Number.isFinite(hours)) return [];
  return [{ label: 'Years', text: [`${rounded(hours / hoursInYear, 2)} of running day and night`] }];
}
