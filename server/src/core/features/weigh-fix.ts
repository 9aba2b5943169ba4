/**
 * Whether a remedy may be made without being asked for: a check sees that a value is meant, and not what the base says once it counts.
 * Laws (test/property/weigh-fix.property.test.ts):
 * - a fix removes its finding and adds none
 * - what is asked for removes its finding
 * - a remedy breaks no document and changes its file or captures that are named there
 */
import type { Fix } from '../checks/fix.ts';
import { planEdits } from '../edits/plan-edits.ts';
import { isRefusal } from '../edits/text-edit.ts';
import { type CheckedText, checkEdits, leavesFewer } from './checked-text.ts';

/** The remedy as it may be offered: one that would bring another finding has to be asked for. */
export function* weighFix(fix: Fix, checked: CheckedText): Generator<undefined, Fix> {
  if (fix.kind === 'ask') return fix;
  const asked: Fix = { ...fix, kind: 'ask' };
  const planned = fix.contentId === checked.text.contentId ? planEdits(checked.text, fix.intents) : undefined;
  if (!planned || isRefusal(planned)) return asked;
  return leavesFewer(checked, yield* checkEdits(checked, planned.edits, fix.others)) ? fix : asked;
}
