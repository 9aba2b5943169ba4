/**
 * The stretches of text an editor selects one after the other when a selection grows.
 * Laws (test/property/enclosing-spans.property.test.ts):
 * - every span lies within the next and is smaller
 * - every span holds the offset
 * - the last span is the whole text
 */
import type { Span, Tape, TapeEntry } from '../syntax/tape.ts';
import { entriesAt } from './entries-at.ts';

/** The spans around an offset from the smallest outwards: key or value, the pair of both, map or list, document, text. */
export function enclosingSpans(tape: Tape, offset: number): readonly Span[] {
  let outer: Span = { start: 0, end: tape.text.length };
  const spans = [outer];
  for (const span of entriesAt(tape, offset).flatMap(({ entry }) => spansOf(entry))) {
    // What a broken document holds may reach out of what holds it.
    const isNested = outer.start <= span.start && span.end <= outer.end;
    const isSmaller = span.end - span.start < outer.end - outer.start;
    if (!isNested || !isSmaller || offset < span.start || span.end < offset) continue;
    spans.push(span);
    outer = span;
  }
  return spans.reverse();
}

/** The pair, its key and its value; of list items and roots the value alone. */
function spansOf({ kind, keyStart, keyEnd, start, end }: TapeEntry): readonly Span[] {
  const value = kind === 'empty' ? [] : [{ start, end }];
  if (keyStart < 0) return value;
  return [{ start: keyStart, end: Math.max(keyEnd, end) }, { start: keyStart, end: keyEnd }, ...value];
}
