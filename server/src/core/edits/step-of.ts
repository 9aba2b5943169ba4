import { childrenOf, type Path, type Tape } from '../syntax/tape.ts';
import { createDocument } from './create-document.ts';
import { entryAt } from './entry-spans.ts';
import { insertMember } from './insert-member.ts';
import type { Intent, PlacedIntent, Value, ValueMap } from './intent.ts';
import { findPlace, isWithinFlow, type Located, oddMap, sharedBy } from './place.ts';
import { removeMember } from './remove-member.ts';
import { replaceValue } from './replace-value.ts';
import { sortMembers } from './sort-members.ts';
import { isRefusal, type Refusal, type TextEdit } from './text-edit.ts';
import { isSameView, viewOf, viewOfValue } from './view.ts';
import { styleOf } from './write-scalar.ts';
import { writeKey } from './write-value.ts';

/** What one intent comes to: edits of the text, or smaller intents. */
export type Step = { readonly edits: readonly TextEdit[] } | { readonly parts: readonly PlacedIntent[] };

/** What one intent comes to in a text; refused where it cannot be carried out safely. */
export function stepOf(tape: Tape, intent: Intent): Step | Refusal {
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
    case 'sort':
      return toStep(sortKeys(tape, place, intent));
    default:
      return intent satisfies never;
  }
}

type Setting = Extract<Intent, { readonly intent: 'set' | 'insert' }>;

function setStep(tape: Tape, place: Located, intent: Setting): Step | Refusal {
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
function addStep(tape: Tape, { node, chain }: Located, { path, value }: Setting): Step | Refusal {
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

function insertStep(tape: Tape, { node, chain }: Located, intent: Setting): Step | Refusal {
  const { path, value } = intent;
  const step = path.at(-1);
  const isThere = chain.length > path.length;
  if (typeof step !== 'number') {
    if (!isThere) return setStep(tape, { node, chain }, intent);
    return entryAt(tape, chain.at(-1) ?? 0).kind === 'empty'
      ? setStep(tape, { node, chain }, intent)
      : { refused: `The key \`${step}\` is there already.` };
  }
  const list: Located = isThere ? { node, chain: chain.slice(0, -1) as [number, ...number[]] } : { node, chain };
  const index = list.chain.at(-1) ?? 0;
  const isList = list.chain.length === path.length && entryAt(tape, index).kind === 'list';
  const length = [...childrenOf(tape, index)].length;
  if (!isList || step > length) return { refused: 'There is no such entry in the list.' };
  return (
    sharedBy(tape, list.chain, 'part') ?? toStep(insertMember(tape, list, path.slice(0, -1), { position: step, value }))
  );
}

function removeStep(tape: Tape, place: Located, { path }: PlacedIntent): Step | Refusal {
  const { chain } = place;
  if (chain.length <= path.length || path.length === 0) return { refused: 'What is to be removed is not there.' };
  const shared = sharedBy(tape, chain, 'all');
  if (shared) return shared;
  const parent = chain.at(-2) ?? 0;
  if ([...childrenOf(tape, parent)].length > 1) return toStep(removeMember(tape, place));
  if (chain.length === 2) return { refused: 'Nothing would be left of the document.' };
  // Without its last member a map or list would read as nothing at all.
  const emptied: Located = { ...place, chain: chain.slice(0, -1) as [number, ...number[]] };
  return toStep(replaceValue(tape, emptied, path.slice(0, -1), entryAt(tape, parent).kind === 'map' ? {} : []));
}

function renameKey(
  tape: Tape,
  { chain }: Located,
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

function sortKeys(tape: Tape, place: Located, { path }: PlacedIntent): readonly TextEdit[] | Refusal {
  const isThere = place.chain.length > path.length && entryAt(tape, place.chain.at(-1) ?? 0).kind === 'map';
  return isThere ? sortMembers(tape, place, path) : { refused: 'There is no map here whose keys could be sorted.' };
}

function toStep(edits: readonly TextEdit[] | Refusal): Step | Refusal {
  return isRefusal(edits) ? edits : { edits };
}
