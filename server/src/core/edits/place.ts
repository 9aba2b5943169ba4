import { childrenOf, findEntry, type Path, type Tape } from '../syntax/tape.ts';
import { kinds } from '../terms/kinds.ts';
import { entryAt, flowStarts, isFlow } from './entry-spans.ts';
import type { Refusal } from './text-edit.ts';
import { columnOf } from './text-lines.ts';

/** A place of a document as far as it is there. */
export interface Located {
  /** Kind of the record, or `config`. */
  readonly node: string;
  /** Entries from the document's root down to the place; of steps that are not there yet, none. */
  readonly chain: readonly [number, ...number[]];
}

/** Finds a place, or says what stands in the way of editing it. */
export function findPlace(tape: Tape, document: number, path: Path): Located | Refusal {
  const found = tape.documents[document];
  if (!found) return { refused: `The file has no document ${document + 1}.` };
  if (found.isBroken) return { refused: 'The YAML around this cannot be read; that has to be mended first.' };
  if (found.root < 0) return { refused: 'The document is empty.' };
  const chain: [number, ...number[]] = [found.root];
  for (const step of path) {
    const index = chain.at(-1) ?? found.root;
    const { kind, start, end } = entryAt(tape, index);
    if (kind === 'alias') return { refused: repeatedWords(tape.text.slice(start, end)) };
    const children = kind === 'map' || kind === 'list' ? [...childrenOf(tape, index)] : [];
    const trouble = kind === 'map' ? troubleInMap(tape, index, step) : undefined;
    if (trouble) return trouble;
    const child = children.find((candidate, position) =>
      kind === 'map' ? entryAt(tape, candidate).key === step : position === step,
    );
    if (child === undefined) break;
    chain.push(child);
  }
  return { node: nodeOf(tape, found.root), chain };
}

function repeatedWords(alias: string): string {
  return `What stands here is repeated by \`${alias}\`; it has to be changed where it is written.`;
}

/** What kind of record a document is. Only a config has none. */
function nodeOf(tape: Tape, root: number): string {
  const { entry, depth } = findEntry(tape, root, ['kind']);
  return (depth === 1 && kinds.find((kind) => kind === tape.entries[entry]?.text)) || 'config';
}

function troubleInMap(tape: Tape, index: number, step: string | number): Refusal | undefined {
  const children = [...childrenOf(tape, index)].map((child) => entryAt(tape, child));
  if (children.filter(({ key }) => key === step).length > 1)
    return { refused: `The key \`${step}\` stands here twice.` };
  if (step !== '<<' && children.some(({ key }) => key === '<<')) {
    return { refused: 'The key `<<` stands here, which some programs read as values from elsewhere.' };
  }
  return undefined;
}

/**
 * What forbids a change to the entry at the end of a chain: an alias elsewhere that repeats it, the map or list it is in, or, where all of it goes,
 * something inside it.
 */
export function sharedBy(tape: Tape, chain: readonly number[], goes: 'all' | 'part'): Refusal | undefined {
  const last = chain.at(-1) ?? 0;
  const { skip } = entryAt(tape, last);
  for (const [index, { kind, target, start, end }] of tape.entries.entries()) {
    if (kind !== 'alias' || target < 0) continue;
    const isInside = goes === 'all' && last <= target && target < skip && !(last <= index && index < skip);
    const alias = tape.text.slice(start, end);
    if (isInside || chain.includes(target))
      return { refused: `The alias \`${alias}\` repeats this elsewhere, so it would change there too.` };
  }
  return undefined;
}

/** What forbids changing the keys of a map: that it is written in a way nobody could add to safely. */
export function oddMap(tape: Tape, index: number): Refusal | undefined {
  const { start } = entryAt(tape, index);
  const keyStarts = [...childrenOf(tape, index)].map((child) => entryAt(tape, child).keyStart);
  const starts = isFlow(tape, index) ? flowStarts(tape, index) : undefined;
  const column = columnOf(tape.text, start);
  const isOdd = keyStarts.some((at, position) =>
    starts ? starts[position] !== at : columnOf(tape.text, at) !== column,
  );
  if (isOdd) return { refused: 'A key here has an anchor, a tag or a `?` before it; this has to be edited by hand.' };
  if (starts || !isInFlow(tape, index)) return undefined;
  return { refused: 'The pair here stands in a list without braces; this has to be edited by hand.' };
}

function isInFlow(tape: Tape, index: number): boolean {
  return tape.entries.some((entry, outer) => outer < index && index < entry.skip && isFlow(tape, outer));
}

/** Whether the value at the end of a chain lies between brackets. */
export function isWithinFlow(tape: Tape, chain: readonly number[]): boolean {
  return chain.slice(0, -1).some((index) => isFlow(tape, index));
}
