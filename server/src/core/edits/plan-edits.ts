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
 */
import { readText } from '../syntax/read-text.ts';
import { childrenOf, type Path, type Tape } from '../syntax/tape.ts';
import { createDocument } from './create-document.ts';
import { EditedText } from './edited-text.ts';
import { entryAt } from './entry-spans.ts';
import { insertMember } from './insert-member.ts';
import type { Intent, Value, ValueMap } from './intent.ts';
import { findPlace, isWithinFlow, oddMap, type Place, sharedBy } from './place.ts';
import { removeMember } from './remove-member.ts';
import { replaceValue } from './replace-value.ts';
import { type GuardedEdits, isRefusal, type Refusal, type TextEdit } from './text-edit.ts';
import { isSameView, type PlacedIntent, viewAfter, viewOf, viewOfValue } from './view.ts';
import { styleOf } from './write-scalar.ts';
import { writeKey } from './write-value.ts';

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
  for (let intent = queue.pop(); intent; intent = queue.pop()) {
    const step = stepOf(tape, intent);
    if (isRefusal(step)) return step;
    if ('parts' in step) {
      queue.push(...step.parts.toReversed());
      continue;
    }
    if (step.edits.length === 0) continue;
    edited.apply(step.edits);
    const after = readText(edited.text).tape;
    if (!readsAsMeant(tape, after, intent)) {
      return {
        refused:
          'The text around this is laid out in a way that no safe edit was found for; it has to be edited by hand.',
      };
    }
    tape = after;
  }
  return { contentId, edits: edited.edits };
}

/** What one intent comes to: edits of the text, or smaller intents. */
type Step = { readonly edits: readonly TextEdit[] } | { readonly parts: readonly PlacedIntent[] };

function stepOf(tape: Tape, intent: Intent): Step | Refusal {
  if (intent.intent === 'create') return { edits: createDocument(tape, intent.value) };
  const place = findPlace(tape, intent.document, intent.path);
  if (isRefusal(place)) return place;
  switch (intent.intent) {
    case 'set':
      return setStep(tape, place, intent);
    case 'insert':
      return insertStep(tape, place, intent);
    case 'remove':
      return removeStep(tape, place, intent);
    case 'rename':
      return toStep(renameKey(tape, place, intent));
    default:
      return intent satisfies never;
  }
}

type Setting = Extract<Intent, { readonly intent: 'set' | 'insert' }>;

function setStep(tape: Tape, place: Place, intent: Setting): Step | Refusal {
  const { path, value } = intent;
  const index = place.chain.at(-1) ?? 0;
  if (place.chain.length <= path.length) return addStep(tape, place, intent);
  const view = viewOf(tape, index);
  if (isSameView(view, viewOfValue(value))) return { edits: [] };
  const parts = partsOf(tape, index, intent);
  if (parts) return { parts };
  const { tag } = entryAt(tape, index);
  if (tag !== undefined) return { refused: `The value has the tag \`${tag}\`; it has to be edited by hand.` };
  if (path.length === 0) return { refused: 'A whole document cannot be replaced by something that is no map.' };
  return sharedBy(tape, place.chain, 'all') ?? toStep(replaceValue(tape, place, path, value));
}

/** Sets a value whose key, or some key above it, is not there yet. */
function addStep(tape: Tape, { node, chain }: Place, { path, value }: Setting): Step | Refusal {
  const index = chain.at(-1) ?? 0;
  const { kind, tag } = entryAt(tape, index);
  const [step, ...rest] = path.slice(chain.length - 1);
  const isKeyless = typeof step === 'number' || rest.some((inner) => typeof inner === 'number');
  if (kind === 'list' || step === undefined || isKeyless) return { refused: 'There is no such entry in the list.' };
  if ((kind !== 'map' && kind !== 'empty') || tag !== undefined)
    return { refused: `A value stands where \`${step}\` would need a map.` };
  const inner = rest.reduceRight((held: Value, key): Value => ({ [key]: held }), value);
  const at = path.slice(0, chain.length - 1);
  return (
    sharedBy(tape, chain, 'part') ??
    toStep(
      kind === 'map'
        ? insertMember(tape, { node, chain }, at, { key: String(step), value: inner })
        : replaceValue(tape, { node, chain }, at, { [step]: inner }),
    )
  );
}

/** A map set onto a map, or a list onto a list, comes to what differs, so that comments and layout of the rest stay. */
function partsOf(tape: Tape, index: number, { document, path, value }: Setting): readonly PlacedIntent[] | undefined {
  const { kind } = entryAt(tape, index);
  const children = [...childrenOf(tape, index)];
  if (typeof value !== 'object' || children.length === 0 || Object.keys(value).length === 0) return undefined;
  if (kind === 'map' && !Array.isArray(value)) {
    const { sets, removes } = mapParts(tape, children, value as ValueMap);
    return [
      ...sets.map(([key, inner]) => ({ intent: 'set', document, path: [...path, key], value: inner }) as const),
      ...removes.map((key) => ({ intent: 'remove', document, path: [...path, key] }) as const),
    ];
  }
  return kind === 'list' && Array.isArray(value) ? listParts(tape, children, { document, path, value }) : undefined;
}

function mapParts(
  tape: Tape,
  children: readonly number[],
  value: ValueMap,
): {
  readonly sets: readonly (readonly [string, Value])[];
  readonly removes: readonly string[];
} {
  const keys = children.map((child) => entryAt(tape, child).key ?? '');
  return { sets: Object.entries(value), removes: keys.filter((key) => !Object.hasOwn(value, key)) };
}

function listParts(
  tape: Tape,
  children: readonly number[],
  { document, path, value }: { readonly document: number; readonly path: Path; readonly value: readonly Value[] },
): readonly PlacedIntent[] {
  const isSame = (old: number | undefined, item: Value | undefined): boolean =>
    old !== undefined && item !== undefined && isSameView(viewOf(tape, old), viewOfValue(item));
  let start = 0;
  while (isSame(children[start], value[start])) start++;
  const shorter = Math.min(children.length, value.length) - start;
  let same = 0;
  while (same < shorter && isSame(children.at(-1 - same), value.at(-1 - same))) same++;
  const replaced = shorter - same;
  const place = (position: number): { readonly document: number; readonly path: Path } => ({
    document,
    path: [...path, position],
  });
  const sets = value.slice(start, start + replaced);
  const inserts = value.slice(start + replaced, value.length - same);
  const removes = Array.from({ length: children.length - same - start - replaced }, (_, at) => start + replaced + at);
  return [
    ...sets.map((item, at) => ({ intent: 'set', ...place(start + at), value: item }) as const),
    ...inserts.map((item, at) => ({ intent: 'insert', ...place(start + replaced + at), value: item }) as const),
    ...removes.toReversed().map((at) => ({ intent: 'remove', ...place(at) }) as const),
  ];
}

function insertStep(tape: Tape, { node, chain }: Place, intent: Setting): Step | Refusal {
  const { path, value } = intent;
  const step = path.at(-1);
  const isThere = chain.length > path.length;
  if (typeof step !== 'number') {
    if (!isThere) return setStep(tape, { node, chain }, intent);
    return entryAt(tape, chain.at(-1) ?? 0).kind === 'empty'
      ? setStep(tape, { node, chain }, intent)
      : { refused: `The key \`${step}\` is there already.` };
  }
  const list: Place = isThere ? { node, chain: chain.slice(0, -1) as [number, ...number[]] } : { node, chain };
  const index = list.chain.at(-1) ?? 0;
  const isList = list.chain.length === path.length && entryAt(tape, index).kind === 'list';
  const length = [...childrenOf(tape, index)].length;
  if (!isList || step > length) return { refused: 'There is no such entry in the list.' };
  return (
    sharedBy(tape, list.chain, 'part') ?? toStep(insertMember(tape, list, path.slice(0, -1), { position: step, value }))
  );
}

function removeStep(tape: Tape, place: Place, { path }: PlacedIntent): Step | Refusal {
  const { chain } = place;
  if (chain.length <= path.length || path.length === 0) return { refused: 'What is to be removed is not there.' };
  const shared = sharedBy(tape, chain, 'all');
  if (shared) return shared;
  const parent = chain.at(-2) ?? 0;
  if ([...childrenOf(tape, parent)].length > 1) return toStep(removeMember(tape, place));
  if (chain.length === 2) return { refused: 'Nothing would be left of the document.' };
  // Without its last member a map or list would read as nothing at all.
  const emptied: Place = { ...place, chain: chain.slice(0, -1) as [number, ...number[]] };
  return toStep(replaceValue(tape, emptied, path.slice(0, -1), entryAt(tape, parent).kind === 'map' ? {} : []));
}

function renameKey(
  tape: Tape,
  { chain }: Place,
  { path, name }: Extract<Intent, { readonly intent: 'rename' }>,
): readonly TextEdit[] | Refusal {
  const parent = chain.at(-2);
  const entry = entryAt(tape, chain.at(-1) ?? 0);
  if (chain.length <= path.length || parent === undefined || entry.keyStart < 0)
    return { refused: 'There is no such key.' };
  if (name === entry.key) return [];
  const isTaken = [...childrenOf(tape, parent)].some((child) => entryAt(tape, child).key === name);
  if (isTaken) return { refused: `The key \`${name}\` is there already.` };
  const shared = sharedBy(tape, chain.slice(0, -1), 'part') ?? oddMap(tape, parent);
  if (shared) return shared;
  const { keyStart: start, keyEnd: end } = entry;
  const first = tape.text.charAt(start);
  const style = first === '"' || first === "'" ? styleOf(tape, { ...entry, kind: 'quoted', start }) : 'plain';
  return [{ start, end, text: writeKey(name, style, isWithinFlow(tape, chain)) }];
}

function toStep(edits: readonly TextEdit[] | Refusal): Step | Refusal {
  return isRefusal(edits) ? edits : { edits };
}

/** Whether a text reads after an edit as it was meant to: the document as the intent says, the others as before. */
function readsAsMeant(before: Tape, after: Tape, intent: Intent): boolean {
  const views = before.documents.map(({ root }) => viewOf(before, root));
  const meant =
    intent.intent === 'create'
      ? [...(views.at(-1) === undefined ? views.slice(0, -1) : views), viewOfValue(intent.value)]
      : views.map((view, document) => (document === intent.document ? viewAfter(view, intent) : view));
  const isSound = after.documents.every(({ isBroken }, at) => isBroken === (before.documents[at]?.isBroken ?? false));
  return (
    isSound &&
    after.documents.length === meant.length &&
    meant.every((view, at) => isSameView(view, viewOf(after, after.documents[at]?.root ?? -1)))
  );
}
