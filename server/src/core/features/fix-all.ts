import type { Fix } from '../checks/fix.ts';
import type { Intent } from '../edits/intent.ts';
import { type EditableText, planEdits } from '../edits/plan-edits.ts';
import { type GuardedEdits, isRefusal } from '../edits/text-edit.ts';

/**
 * The edits that make several remedies of one text at once. Those made for another content, and those that cannot be made beside the
 * others, are left out.
 */
export function fixAll(text: EditableText, fixes: readonly Fix[]): GuardedEdits {
  // What lies deeper first: a key that is renamed leads nowhere any more.
  const ordered = fixes
    .filter(({ contentId }) => contentId === text.contentId)
    .toSorted((a, b) => depthOf(b) - depthOf(a));
  return widened(text, ordered, { intents: [], planned: { contentId: text.contentId, edits: [] } }).planned;
}

/** Intents that can be carried out together, and their edits. */
interface Plan {
  readonly intents: readonly Intent[];
  readonly planned: GuardedEdits;
}

/** The plan with these remedies too; where not all of them can be made, with each half as far as that goes. */
function widened(text: EditableText, fixes: readonly Fix[], plan: Plan): Plan {
  if (fixes.length === 0) return plan;
  const intents = [...plan.intents, ...fixes.flatMap((fix) => fix.intents)];
  const planned = planEdits(text, intents);
  if (!isRefusal(planned)) return { intents, planned };
  if (fixes.length === 1) return plan;
  const middle = fixes.length >> 1;
  return widened(text, fixes.slice(middle), widened(text, fixes.slice(0, middle), plan));
}

function depthOf({ intents }: Fix): number {
  return Math.max(0, ...intents.map((intent) => (intent.intent === 'create' ? 0 : intent.path.length)));
}
