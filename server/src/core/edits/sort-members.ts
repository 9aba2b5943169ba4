/**
 * Puts the keys of a map, and of all maps within it, into the schema's order; those the schema does not know come last, in the order they have. Comments behind a
 * key, below it and further right, and above it move with it; blank lines stay where they are, and so do comments above a document's
 * first key, which are about the record.
 * Laws (test/property/sort-members.property.test.ts):
 * - the keys are sorted, and every value reads as before
 * - every comment stays, those behind a value with it
 * - sorting twice is sorting once
 * - aliases repeat what they repeated
 */
import { childrenOf, type Path, type Tape } from '../syntax/tape.ts';
import { contentEnd, entryAt, flowStarts, isFlow, linesEnd } from './entry-spans.ts';
import { type Located, oddMap } from './place.ts';
import { isRefusal, type Refusal, replaceIn, type TextEdit } from './text-edit.ts';
import { columnOf, hasComment, isFirstOnLine, lineStart, nextLine } from './text-lines.ts';
import { keyRanks } from './write-value.ts';

/** Sorts the map at the end of a chain, whose path is given, and all maps within it. */
export function sortMembers(tape: Tape, { node, chain }: Located, path: Path): readonly TextEdit[] | Refusal {
  return sortBelow(tape, chain.at(-1) ?? 0, { node, path });
}

/** Where a value stands in its record, which gives the order of its keys. */
interface Site {
  readonly node: string;
  readonly path: Path;
}

function sortBelow(tape: Tape, index: number, site: Site): readonly TextEdit[] | Refusal {
  const inner: TextEdit[] = [];
  for (const [position, child] of [...childrenOf(tape, index)].entries()) {
    const step = entryAt(tape, child).key ?? position;
    const edits = sortBelow(tape, child, { ...site, path: [...site.path, step] });
    if (isRefusal(edits)) return edits;
    inner.push(...edits);
  }
  const order = entryAt(tape, index).kind === 'map' ? sortedOrder(tape, index, site) : [];
  if (order.every((from, to) => from === to)) return inner;
  const refusal = oddMap(tape, index) ?? strandedAlias(tape, index, order) ?? commentInFlow(tape, index);
  if (refusal) return refusal;
  const slots = isFlow(tape, index) ? flowSlots(tape, index) : lineSlots(tape, index, site.path.length === 0);
  return order.flatMap((from, to) => {
    const [taken, filled] = [slots[from], slots[to]];
    if (!taken || !filled) return [];
    const own = inner.filter(({ start }) => taken.start <= start && start < taken.end);
    return from === to ? own : moved(tape.text, taken, filled, own);
  });
}

/** The positions of a map's members in the order they are to have. */
function sortedOrder(tape: Tape, index: number, { node, path }: Site): readonly number[] {
  const rank = keyRanks(node, path);
  const ranks = Array.from(childrenOf(tape, index), (child) => rank(entryAt(tape, child).key ?? ''));
  return [...ranks.keys()].sort((a, b) => (ranks[a] ?? 0) - (ranks[b] ?? 0));
}

/** The stretch of a member with the comments that belong to it. */
interface Slot {
  readonly start: number;
  readonly end: number;
  /** What stands before the key where it begins its line, as that of another member would; undefined where it does not begin one. */
  readonly indent: string | undefined;
}

/** Puts what stands in one slot, with the edits within it, into another. */
function moved(text: string, taken: Slot, { start, end, indent }: Slot, within: readonly TextEdit[]): TextEdit {
  const shifted = within.map((edit) => ({ ...edit, start: edit.start - taken.start, end: edit.end - taken.start }));
  const body = replaceIn(text.slice(taken.start, taken.end), shifted);
  if (indent === undefined) return { start, end, text: body.trimStart() };
  return { start, end, text: taken.indent === undefined ? indent + body : body };
}

function lineSlots(tape: Tape, index: number, isRoot: boolean): readonly Slot[] {
  const { text } = tape;
  const column = columnOf(text, entryAt(tape, index).start);
  const indent = ' '.repeat(column);
  let before: number | undefined;
  return Array.from(childrenOf(tape, index), (child) => {
    const { keyStart } = entryAt(tape, child);
    const end = linesEnd(tape, child, column);
    const from = before === undefined ? lineStart(text, keyStart) : nextLine(text, before);
    const isFirst = before === undefined;
    before = end;
    if (!isFirstOnLine(text, keyStart)) return { start: keyStart, end, indent: undefined };
    const start = isFirst && !isRoot ? commentsAbove(text, from) : from;
    return { start: pastBlankLines(text, start), end, indent };
  });
}

/** Where the lines begin that hold nothing, or a comment alone, right above a line. */
function commentsAbove(text: string, line: number): number {
  let at = line;
  while (at > 0) {
    // Of a line that ends with `\r\n` first the `\n`, which is blank by itself.
    const above = lineStart(text, at - 1);
    if (!/^[ \t]*(?:#.*)?[\r\n]*$/.test(text.slice(above, at))) break;
    at = above;
  }
  return at;
}

function pastBlankLines(text: string, line: number): number {
  let at = line;
  while (at < text.length && text.slice(at, nextLine(text, at)).trim() === '') at = nextLine(text, at);
  return at;
}

function flowSlots(tape: Tape, index: number): readonly Slot[] {
  const starts = flowStarts(tape, index);
  return Array.from(childrenOf(tape, index), (child, position) => ({
    start: starts[position] ?? 0,
    end: contentEnd(tape, child),
    indent: undefined,
  }));
}

function commentInFlow(tape: Tape, index: number): Refusal | undefined {
  const { start, end } = entryAt(tape, index);
  const isUnclear = isFlow(tape, index) && hasComment(tape.text, start, end);
  return isUnclear
    ? { refused: 'Comments stand between braces, and which key they belong to cannot be told.' }
    : undefined;
}

/** An alias that would come to repeat something else, or nothing. */
function strandedAlias(tape: Tape, index: number, order: readonly number[]): Refusal | undefined {
  const members = Array.from(childrenOf(tape, index), (child) => ({ child, skip: entryAt(tape, child).skip }));
  const placeOf = (entry: number): number =>
    order.indexOf(members.findIndex(({ child, skip }) => child <= entry && entry < skip));
  for (const [at, { kind, target, start, end }] of tape.entries.entries()) {
    if (kind !== 'alias') continue;
    const [place, placeOfTarget] = [placeOf(at), placeOf(target)];
    if (place < 0 && placeOfTarget < 0) continue;
    const alias = tape.text.slice(start, end);
    if (place >= 0 && placeOfTarget > place) {
      return { refused: `The alias \`${alias}\` would stand before what it repeats.` };
    }
    if (anchorsLike(tape.text, alias) > 1) {
      return { refused: `More than one value is marked for the alias \`${alias}\`; this has to be sorted by hand.` };
    }
  }
  return undefined;
}

function anchorsLike(text: string, alias: string): number {
  return text.split(`&${alias.slice(1)}`).length - 1;
}
