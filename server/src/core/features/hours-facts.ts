import { rounded } from '../text/rounded.ts';
import type { HoverFact } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';
import { isOwnOrReported } from './reported-at.ts';

/** Hours in a year of 365.25 days. */
const hoursInYear = 8766;

/** Power-on hours as years of running day and night. */
export function hoursFacts(context: HoverContext): readonly HoverFact[] {
  const hours = Number(context.entry.text);
  if (!isOwnOrReported(context, 'power_on_hours') || !(hours > 0) || !Number.isFinite(hours)) return [];
  return [{ label: 'Years', text: [`${rounded(hours / hoursInYear, 2)} of running day and night`] }];
}
