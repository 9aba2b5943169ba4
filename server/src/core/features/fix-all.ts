/**
 * Everything in one file that may be mended without asking, at once.
 * Laws (test/property/fix-all.property.test.ts):
 * - what is mended at once adds no finding
 * - mending twice is mending once
 * - a file that any fix could mend is mended
 * - what has to be asked for is left alone
 */

import type { Fix, OtherChange } from '../checks/fix.ts';
import { resolveFindings } from '../checks/resolve-findings.ts';
import { findingsOf } from '../checks/run-checks.ts';
import { EditedText } from '../edits/edited-text.ts';
import type { Intent } from '../edits/intent.ts';
import { planEdits } from '../edits/plan-edits.ts';
import { type GuardedEdits, isRefusal, type TextEdit } from '../edits/text-edit.ts';
import { type CheckedText, checkEdits, leavesFewer } from './checked-text.ts';

/** How far mending may reach: the file alone, or also files that its records name. */
export type Reach = 'file' | 'named-files';

/** All that is mended: edits of the file, and changes of files that its records name. */
export interface FixedAll extends GuardedEdits {
  readonly others: readonly OtherChange[];
}

/**
 * The edits that make every fix of a text that brings no other finding. Those that cannot be made beside the others, or that show
 * something new together with them, are left out.
 */
export function* fixAll(checked: CheckedText, reach: Reach): Generator<undefined, FixedAll> {
  const edited = new EditedText(checked.text.tape.text);
  const others: OtherChange[] = [];
  let current = checked;
  for (;;) {
    // What one fix brings to light another may have mended, so what was left out is tried again until nothing comes of it.
    const start: Plan = { intents: [], edits: [], others: [], after: current };
    const plan = yield* widened(current, fixesOf(current, reach), start);
    if (plan === start) return { contentId: checked.text.contentId, edits: edited.edits, others };
    edited.apply(plan.edits);
    others.push(...plan.others);
    current = plan.after;
  }
}

/** The fixes of a text, from its beginning on. */
function fixesOf({ path, text, runs }: CheckedText, reach: Reach): readonly Fix[] {
  const findings = runs.flatMap(findingsOf).filter(({ place }) => place.file === path);
  return resolveFindings(findings, new Map([[path, text.tape]]))
    .flatMap(({ fixes }) => fixes)
    .filter(({ kind, contentId }) => kind === 'fix' && contentId === text.contentId)
    .filter(({ others = [] }) => reach === 'named-files' || others.length === 0);
}

/** Intents that can be carried out together, their edits, and the text after them. */
interface Plan {
  readonly intents: readonly Intent[];
  readonly edits: readonly TextEdit[];
  readonly others: readonly OtherChange[];
  readonly after: CheckedText;
}

/** The plan with these fixes too; where not all of them can be made, with each half as far as that goes. */
function* widened(start: CheckedText, fixes: readonly Fix[], plan: Plan): Generator<undefined, Plan> {
  if (fixes.length === 0) return plan;
  const intents = [...plan.intents, ...fixes.flatMap((fix) => fix.intents)];
  // Two records may name one file, and what is done to it is done once.
  const byFile = new Map([...plan.others, ...fixes.flatMap(({ others = [] }) => others)].map((one) => [one.file, one]));
  const others = [...byFile.values()];
  const planned = planEdits(start.text, intents);
  if (!isRefusal(planned)) {
    const after = yield* checkEdits(start, planned.edits, others);
    if (leavesFewer(plan.after, after)) return { intents, edits: planned.edits, others, after };
  }
  if (fixes.length === 1) return plan;
  const middle = fixes.length >> 1;
  return yield* widened(start, fixes.slice(middle), yield* widened(start, fixes.slice(0, middle), plan));
}
