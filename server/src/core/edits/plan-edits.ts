/**
 * Invariant 15: one module turns intents on places into minimal text edits, guarded by the content they were made for. Comments, order
 * and line endings around them stay. Every edit is read back: one that would not read as meant, or would touch anything else, is refused.
 * Laws (test/property/plan-edits.property.test.ts):
 * - after set, the path reads as the value and every other path reads as before
 * - an inserted member reads as the value, and every other one as before
 * - after remove, every other path reads as before
 * - after rename, the value reads under the new key and all else as before
 * - a created document reads as the value, and those before it as before
 * - all comments outside what is removed survive
 * - remove after insert gives back the text
 * - set of the value that stands there changes nothing
 * - line endings of the file are kept
 * - edits are sorted, apart from one another and within the text
 * - edits made for another content are refused
 * - both readers read the edited text alike
 * - several intents at once come to what they come to one by one
 */
import { readText } from '../syntax/read-text.ts';
import type { Tape } from '../syntax/tape.ts';
import { EditedText } from './edited-text.ts';
import { entryAt } from './entry-spans.ts';
import type { Intent } from './intent.ts';
import { findPlace } from './place.ts';
import { stepOf } from './step-of.ts';
import { type GuardedEdits, isRefusal, type Refusal, type TextEdit } from './text-edit.ts';
import { isSameView, type View, viewAfter, viewOf, viewOfValue } from './view.ts';

/** A text as read, and the id of its content. */
export interface EditableText {
  readonly tape: Tape;
  readonly contentId: string;
}

/** The edits that carry out all intents, one after the other; refused, all of them, where one cannot be carried out safely. */
export function planEdits(
  { tape: first, contentId }: EditableText,
  intents: readonly Intent[],
): GuardedEdits | Refusal {
  const edited = new EditedText(first.text);
  const queue = intents.toReversed();
  let tape = first;
  while (queue.length > 0) {
    const batch = nextBatch(tape, queue);
    if (isRefusal(batch)) return batch;
    if (batch.edits.length === 0) continue;
    edited.apply(batch.edits);
    const after = readText(edited.text).tape;
    if (!readsAsMeant(tape, after, batch.intents)) {
      return { refused: 'This is laid out in a way that no safe edit was found for; it has to be edited by hand.' };
    }
    tape = after;
  }
  return { contentId, edits: edited.edits };
}

/** Intents carried out before the text is read again, and their edits, sorted. */
interface Batch {
  readonly intents: readonly Intent[];
  readonly edits: readonly TextEdit[];
}

/**
 * Takes the next intent off the queue, and those after it as long as each only puts one scalar or key for another and means the same
 * whether those before it are carried out or not: reading again is what costs.
 */
function nextBatch(tape: Tape, queue: Intent[]): Batch | Refusal {
  const intents: Intent[] = [];
  const edits = new Map<number, TextEdit>();
  for (let intent = queue.pop(); intent; intent = queue.pop()) {
    const at = replacedAt(tape, intent);
    if (intents.length > 0 && (at === undefined || edits.has(at) || isMoved(intent, intents))) {
      queue.push(intent);
      break;
    }
    const step = stepOf(tape, intent);
    if (isRefusal(step)) return step;
    if ('parts' in step) {
      queue.push(...step.parts.toReversed());
      return { intents: [], edits: [] };
    }
    if (at === undefined) return { intents: [intent], edits: step.edits };
    intents.push(intent);
    for (const edit of step.edits) edits.set(edit.start, edit);
  }
  return { intents, edits: [...edits.values()].sort((a, b) => a.start - b.start) };
}

/** Where the scalar or key begins for which an intent puts another on the same line; undefined for all other intents. */
function replacedAt(tape: Tape, intent: Intent): number | undefined {
  if (intent.intent !== 'set' && intent.intent !== 'rename') return undefined;
  const place = findPlace(tape, intent.document, intent.path);
  if (isRefusal(place) || place.chain.length <= intent.path.length) return undefined;
  const { kind, start, keyStart } = entryAt(tape, place.chain.at(-1) ?? 0);
  if (intent.intent === 'rename') return keyStart;
  const isLine = typeof intent.value !== 'object' && !String(intent.value).includes('\n');
  return isLine && (kind === 'plain' || kind === 'quoted') ? start : undefined;
}

/** Whether an intent's path, or the name it gives, has to do with a key that one before it renames. */
function isMoved(intent: Intent, earlier: readonly Intent[]): boolean {
  return earlier.some((before) => {
    if (before.intent !== 'rename' || intent.intent === 'create') return false;
    const steps = [intent.document, ...intent.path];
    const above = [before.document, ...before.path.slice(0, -1)];
    const names: readonly unknown[] = [before.path.at(-1), before.name];
    const isBelow = above.every((step, at) => step === steps[at]);
    return isBelow && (names.includes(steps[above.length]) || ('name' in intent && names.includes(intent.name)));
  });
}

/** Whether a text reads after an edit as it was meant to: each document as the intents say, those they do not name as before. */
function readsAsMeant(before: Tape, after: Tape, intents: readonly Intent[]): boolean {
  const views = before.documents.map(({ root }) => viewOf(before, root));
  const meant = intents.reduce(viewsAfter, views);
  const isSound = after.documents.every(({ isBroken }, at) => isBroken === (before.documents[at]?.isBroken ?? false));
  return (
    isSound &&
    after.documents.length === meant.length &&
    meant.every((view, at) => isSameView(view, viewOf(after, after.documents[at]?.root ?? -1)))
  );
}

function viewsAfter(views: readonly (View | undefined)[], intent: Intent): readonly (View | undefined)[] {
  if (intent.intent !== 'create') {
    return views.map((view, document) => (document === intent.document ? viewAfter(view, intent) : view));
  }
  const kept = views.at(-1) === undefined ? views.slice(0, -1) : views;
  return [...kept, viewOfValue(intent.value)];
}
