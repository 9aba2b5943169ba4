/**
 * The stretches of text an editor selects one after the other when a selection grows.
 * Laws (test/property/enclosing-spans.property.test.ts):
 * - every span lies within the next and is smaller
 * - every span holds the offset
 * - the last span is the whole text
 */
import { childrenOf, type Tape, type TapeEntry } from '../syntax/tape.ts';

/** Half-open UTF-16 offsets. */
interface Span {
  readonly start: number;
  readonly end: number;
}

/** The spans around an offset from the smallest outwards: key or value, the pair of both, map or list, document, text. */
export function enclosingSpans(tape: Tape, offset: number): readonly Span[] {
  const spans: Span[] = [{ start: 0, end: tape.text.length }];
  const add = (start: number, end: number): boolean => {
    const outer = spans.at(-1);
    const isInside =
      outer !== undefined && outer.start <= start && start <= offset && offset <= end && end <= outer.end;
    if (isInside && end - start < outer.end - outer.start) spans.push({ start, end });
    return isInside;
  };
  const enter = (index: number, entry: TapeEntry): boolean => {
    const { keyStart, keyEnd, start, end } = entry;
    if (keyStart >= 0 && !add(keyStart, Math.max(keyEnd, end))) return false;
    if (keyStart >= 0 && add(keyStart, keyEnd)) return true;
    const isInValue = entry.kind !== 'empty' && add(start, end);
    if (isInValue) enterFirst(childrenOf(tape, index));
    return isInValue || keyStart >= 0;
  };
  const enterFirst = (indices: Iterable<number>): void => {
    for (const index of indices) {
      const entry = tape.entries[index];
      if (entry && enter(index, entry)) return;
    }
  };
  enterFirst(tape.documents.map(({ root }) => root));
  return spans.reverse();
}
