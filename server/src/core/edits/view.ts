import { scalarValue } from '../syntax/build-data.ts';
import type { ScalarValue } from '../syntax/core-schema.ts';
import { childrenOf, type Tape } from '../syntax/tape.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { entryAt } from './entry-spans.ts';
import type { PlacedIntent, Value } from './intent.ts';

/** A value as it reads, empty values and keys given twice included, so that nothing an edit does escapes a comparison. */
export type View =
  | { readonly is: 'map'; readonly tag: string | undefined; readonly pairs: readonly (readonly [string, View])[] }
  | { readonly is: 'list'; readonly tag: string | undefined; readonly items: readonly View[] }
  | { readonly is: 'scalar'; readonly tag: string | undefined; readonly value: ScalarValue }
  | { readonly is: 'alias'; readonly name: string; readonly isKnown: boolean };

/** How an entry of a tape reads; undefined where a document holds nothing. */
export function viewOf(tape: Tape, index: number): View | undefined {
  return index < 0 ? undefined : viewAt(tape, index);
}

function viewAt(tape: Tape, index: number): View {
  const entry = entryAt(tape, index);
  const { kind, tag } = entry;
  const children = [...childrenOf(tape, index)];
  switch (kind) {
    case 'map':
      return { is: 'map', tag, pairs: children.map((child) => [entryAt(tape, child).key ?? '', viewAt(tape, child)]) };
    case 'list':
      return { is: 'list', tag, items: children.map((child) => viewAt(tape, child)) };
    case 'alias':
      return { is: 'alias', name: tape.text.slice(entry.start, entry.end), isKnown: entry.target >= 0 };
    default:
      return { is: 'scalar', tag, value: scalarValue(entry) };
  }
}

/** How a value reads once it is written. */
export function viewOfValue(value: Value): View {
  if (typeof value !== 'object') return { is: 'scalar', tag: undefined, value };
  if (Array.isArray(value)) return { is: 'list', tag: undefined, items: value.map(viewOfValue) };
  const pairs = Object.entries(value).map(([key, inner]): readonly [string, View] => [key, viewOfValue(inner)]);
  return { is: 'map', tag: undefined, pairs };
}

/** Whether two values read as the same. The order of keys says nothing, except among those of one name. */
export function isSameView(a: View | undefined, b: View | undefined): boolean {
  if (!a || !b) return a === b;
  if (a.is === 'alias') return b.is === 'alias' && a.name === b.name && a.isKnown === b.isKnown;
  if (b.is === 'alias' || a.tag !== b.tag) return false;
  if (a.is === 'scalar') return b.is === 'scalar' && Object.is(a.value, b.value);
  if (a.is === 'list') return b.is === 'list' && areSame(a.items, b.items);
  if (b.is !== 'map' || a.pairs.length !== b.pairs.length) return false;
  const [sortedA, sortedB] = [sorted(a.pairs), sorted(b.pairs)];
  return sortedA.every(([key], at) => key === sortedB[at]?.[0]) && areSame(sortedA.map(innerOf), sortedB.map(innerOf));
}

function areSame(a: readonly View[], b: readonly View[]): boolean {
  return a.length === b.length && a.every((item, position) => isSameView(item, b[position]));
}

function sorted(pairs: readonly (readonly [string, View])[]): readonly (readonly [string, View])[] {
  return pairs.toSorted(([a], [b]) => byCodeUnits(a, b));
}

function innerOf([, value]: readonly [string, View]): View {
  return value;
}

/** How a document is to read once the intent is carried out on what it reads now. */
export function viewAfter(view: View | undefined, { path, ...intent }: PlacedIntent): View | undefined {
  const [step, ...rest] = path;
  if (step === undefined) return intent.intent === 'set' ? viewOfValue(intent.value) : view;
  if (rest.length > 0)
    return withInner(view, step, (inner) => viewAfter(inner, { path: rest, ...intent } as PlacedIntent));
  switch (intent.intent) {
    case 'set':
      return withInner(view, step, () => viewOfValue(intent.value));
    case 'insert':
      return inserted(view, step, viewOfValue(intent.value));
    case 'remove':
      return withInner(view, step, () => undefined);
    case 'rename':
      return view?.is === 'map' ? { ...view, pairs: renamed(view.pairs, step, intent.name) } : view;
    case 'sort':
      return view;
    default:
      return intent satisfies never;
  }
}

/** The map or list with the value at a step put through a change; where there is none, it is added. */
function withInner(
  view: View | undefined,
  step: string | number,
  change: (inner: View | undefined) => View | undefined,
): View | undefined {
  if (view?.is === 'list') {
    return {
      ...view,
      items: view.items.flatMap((item, position) => (position === step ? (change(item) ?? []) : item)),
    };
  }
  const name = String(step);
  const pairs = view?.is === 'map' ? view.pairs : [];
  const at = pairs.findIndex(([key]) => key === name);
  const value = change(pairs[at]?.[1]);
  const pair: readonly (readonly [string, View])[] = value ? [[name, value]] : [];
  const changed = at < 0 ? [...pairs, ...pair] : [...pairs.slice(0, at), ...pair, ...pairs.slice(at + 1)];
  return { is: 'map', tag: view?.is === 'map' ? view.tag : undefined, pairs: changed };
}

function inserted(view: View | undefined, step: string | number, value: View): View | undefined {
  if (typeof step === 'string') return withInner(view, step, () => value);
  const items = view?.is === 'list' ? view.items : [];
  return { is: 'list', tag: view?.is === 'list' ? view.tag : undefined, items: items.toSpliced(step, 0, value) };
}

function renamed(
  pairs: readonly (readonly [string, View])[],
  step: string | number,
  name: string,
): readonly (readonly [string, View])[] {
  const at = pairs.findIndex(([key]) => key === step);
  return pairs.map(([key, value], position) => [position === at ? name : key, value]);
}
