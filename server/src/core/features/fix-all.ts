/**
 * Everything in one file that may be mended without asking, at once.
 * Laws (test/property/fix-all.property.test.ts):
 * - what is mended at once adds no finding
 * - mending twice is mending once
 * - a file that any fix could mend is mended
 * - what has to be asked for is left alone
 */

import type { Fix } from '../checks/fix.ts';
import { resolveFindings } from '../checks/resolve-findings.ts';
import { findingsOf } from '../checks/run-checks.ts';
import { EditedText } from '../edits/edited-text.ts';
import type { Intent } from '../edits/intent.ts';
import { planEdits } from '../edits/plan-edits.ts';
import { type GuardedEdits, isRefusal, type TextEdit } from '../edits/text-edit.ts';
import { type CheckedText, checkEdits, leavesFewer } from './checked-text.ts';

/**
 * The edits that make every fix of a text that brings no other finding. Those that cannot be made beside the others, or that show
 * something new together with them, are left out.
 */
export function* fixAll(checked: CheckedText): Generator<undefined, GuardedEdits> {
  const edited = new EditedText(checked.text.tape.text);
  let current = checked;
  for (;;) {
    // What one fix brings to light another may have mended, so what was left out is tried again until nothing comes of it.
    const plan = yield* widened(current, fixesOf(current), { intents: [], edits: [], after: current });
    if (plan.intents.length === 0) return { contentId: checked.text.contentId, edits: edited.edits };
    edited.apply(plan.edits);
    current = plan.after;
  }
}

/** The fixes of a text, from its beginning on. */
function fixesOf({ path, text, runs }: CheckedText): readonly Fix[] {
  const findings = runs.flatMap(findingsOf).filter(({ place }) => place.file === path);
  return resolveFindings(findings, new Map([[path, text.tape]]))
    .flatMap(({ fixes }) => fixes)
    .filter(({ kind, contentId }) => kind === 'fix' && contentId === text.contentId);
}

/** Intents that can be carried out together, their edits, and the text after them. */
interface Plan {
  readonly intents: readonly Intent[];
  readonly edits: readonly TextEdit[];
  readonly after: CheckedText;
}

/** The plan with these fixes too; where not all of them can be made, with each half as far as that goes. */
function* widened(start: CheckedText, fixes: readonly Fix[], plan: Plan): Generator<undefined, Plan> {
  if (fixes.length === 0) return plan;
  const intents = [...plan.intents, ...fixes.flatMap((fix) => fix.intents)];
  const planned = planEdits(start.text, intents);
  if (!isRefusal(planned)) {
    const after = yield* checkEdits(start, planned.edits);
    if (leavesFewer(plan.after, after)) return { intents, edits: planned.edits, after };
  }
  if (fixes.length === 1) return plan;
  const middle = fixes.length >> 1;
  return yield* widened(start, fixes.slice(middle), yield* widened(start, fixes.slice(0, middle), plan));
}
