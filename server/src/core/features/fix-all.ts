import type { Fix } from '../checks/fix.ts';
import type { Intent } from '../edits/intent.ts';
import { type EditableText, planEdits } from '../edits/plan-edits.ts';
import { type GuardedEdits, isRefusal } from '../edits/text-edit.ts';

/**
 * The edits that make several remedies of one text at once. Those made for another content, and those that cannot be made beside the
 * others, are left out.
 */
export function fixAll(text: EditableText, fixes: readonly Fix[]): GuardedEdits {
  let planned: GuardedEdits = { contentId: text.contentId, edits: [] };
  let intents: readonly Intent[] = [];
  // What lies deeper first: a key that is renamed leads nowhere any more.
  for (const fix of fixes.toSorted((a, b) => depthOf(b) - depthOf(a))) {
    if (fix.contentId !== text.contentId) continue;
    const wider = planEdits(text, [...intents, ...fix.intents]);
    if (isRefusal(wider)) continue;
    planned = wider;
    intents = [...intents, ...fix.intents];
  }
  return planned;
}

function depthOf({ intents }: Fix): number {
  return Math.max(0, ...intents.map((intent) => (intent.intent === 'create' ? 0 : intent.path.length)));
}
