/**
 * Where the parts of a tape's entries stand in the text: what a tape leaves out, such as colons, dashes, commas and comments, is found
 * by reading forwards from a value's end, past which only these can stand.
 */
import { childrenOf, type Tape, type TapeEntry } from '../syntax/tape.ts';
import { columnOf, lineEnd, nextLine, skipTrivia } from './text-lines.ts';

/** The entry at an index that is known to be one. Throws otherwise, which is a mistake in the caller. */
export function entryAt(tape: Tape, index: number): TapeEntry {
  const entry = tape.entries[index];
  if (!entry) throw new Error(`The tape has no entry ${index}`);
  return entry;
}

/** Whether an entry is a map or list between brackets. */
export function isFlow(tape: Tape, index: number): boolean {
  const { kind, start } = entryAt(tape, index);
  if (kind !== 'map' && kind !== 'list') return false;
  if (tape.text.charAt(start) !== (kind === 'map' ? '{' : '[')) return false;
  const [first] = childrenOf(tape, index);
  if (first === undefined) return true;
  const child = entryAt(tape, first);
  // A map whose first key is itself a map between braces.
  return (child.keyStart >= 0 ? child.keyStart : child.start) > start;
}

/** Offset behind the colon of a key; undefined where it has none, as the keys of `{a, b}`. */
export function colonEnd(tape: Tape, { keyEnd }: TapeEntry): number | undefined {
  const at = skipTrivia(tape.text, keyEnd);
  return tape.text.charAt(at) === ':' ? at + 1 : undefined;
}

/** Offset behind the last character of an entry, comments left out: of its value, or of its colon where that is all there is. */
export function contentEnd(tape: Tape, index: number): number {
  const entry = entryAt(tape, index);
  if (entry.kind === 'empty') return entry.keyStart < 0 ? entry.end : (colonEnd(tape, entry) ?? entry.keyEnd);
  const last = [...childrenOf(tape, index)].at(-1);
  if (last !== undefined && !isFlow(tape, index)) return contentEnd(tape, last);
  return entry.kind === 'block' ? blockEnd(tape.text, entry) : entry.end;
}

/** The last line of block text, without its line end. */
function blockEnd(text: string, { end }: TapeEntry): number {
  if (text.startsWith('\r\n', end - 2)) return end - 2;
  return /[\r\n]/.test(text.charAt(end - 1)) ? end - 1 : end;
}

/**
 * The end of the last line of an entry between no brackets, its line end left out: with the comment behind it and those below it that
 * stand further right than `column`.
 */
export function linesEnd(tape: Tape, index: number, column: number): number {
  const { text } = tape;
  let end = lineEnd(text, contentEnd(tape, index));
  for (let start = nextLine(text, end); start > end && start < text.length; start = nextLine(text, end)) {
    const content = start + text.slice(start, lineEnd(text, start)).search(/[^ \t]|$/);
    if (text.charAt(content) !== '#' || columnOf(text, content) <= column) break;
    end = lineEnd(text, start);
  }
  return end;
}

/** Offsets of the dashes of a list between no brackets. */
export function dashesOf(tape: Tape, index: number): readonly number[] {
  const dashes: number[] = [];
  let at = entryAt(tape, index).start;
  for (const child of childrenOf(tape, index)) {
    const dash = skipTrivia(tape.text, at);
    dashes.push(dash);
    at = Math.max(contentEnd(tape, child), dash + 1);
  }
  return dashes;
}

/** Where the members of a map or list between brackets begin, anchors and tags included. */
export function flowStarts(tape: Tape, index: number): readonly number[] {
  const starts: number[] = [];
  let at = entryAt(tape, index).start + 1;
  for (const child of childrenOf(tape, index)) {
    starts.push(skipTrivia(tape.text, at));
    const end = contentEnd(tape, child);
    at = commaEnd(tape.text, end) ?? end;
  }
  return starts;
}

/** Offset behind the comma that follows an offset; undefined where none does. */
export function commaEnd(text: string, offset: number): number | undefined {
  const at = skipTrivia(text, offset);
  return text.charAt(at) === ',' ? at + 1 : undefined;
}

/** Whether nothing but a comma and spaces lie between the end of a member and the start of the next. */
export function isBeside(text: string, end: number, start: number): boolean {
  return /^[ \t]*(?:,[ \t]*)?$/.test(text.slice(end, start));
}
