import { childrenOf, findEntry, type Span, type Tape, type TapeEntry } from '../syntax/tape.ts';
import { LineIndex, type Range } from '../text/line-index.ts';
import type { Place, Target } from './finding.ts';

/** A place in offsets and in lines. */
export interface ResolvedPlace {
  readonly file: string;
  readonly start: number;
  readonly end: number;
  readonly range: Range;
}

/** Finds places in the texts of some files. A file that has no tape counts as empty. */
export class PlaceResolver {
  private readonly lines = new Map<string, LineIndex>();

  constructor(private readonly tapes: ReadonlyMap<string, Tape>) {}

  /** The place in offsets and lines. */
  resolve(place: Place): ResolvedPlace {
    const tape = this.tapes.get(place.file) ?? { text: '', entries: [], documents: [] };
    const { start, end } = spanOf(tape, place.target);
    return { file: place.file, start, end, range: this.linesOf(place.file, tape.text).rangeOf(start, end) };
  }

  private linesOf(file: string, text: string): LineIndex {
    const lines = this.lines.get(file) ?? new LineIndex(text);
    this.lines.set(file, lines);
    return lines;
  }
}

/** The stretch of text a target names; always within one line for targets that name a key or value. */
export function spanOf(tape: Tape, target: Target): Span {
  if ('start' in target) return target;
  const root = tape.documents[target.document]?.root ?? -1;
  if (root < 0) return { start: 0, end: 0 };
  const { entry, depth } = findEntry(tape, root, target.path);
  const found = tape.entries[entry];
  if (!found) return { start: 0, end: 0 };
  if (depth === target.path.length || found.kind === 'alias') return entrySpan(tape, found, target.side);
  return depth === 0 ? kindLine(tape, root) : entrySpan(tape, found, 'key', entry);
}

function entrySpan(tape: Tape, entry: TapeEntry, side: 'key' | 'value', index?: number): Span {
  const key = { start: entry.keyStart, end: entry.keyEnd };
  const hasKey = entry.keyStart >= 0;
  if (hasKey && (side === 'key' || entry.kind === 'empty')) return key;
  const value = { start: entry.start, end: trimmedEnd(tape.text, entry) };
  if (!tape.text.slice(value.start, value.end).includes('\n')) return value;
  if (hasKey) return key;
  // A list item that is a map over several lines: its first key stands for it.
  const [first] = index === undefined ? [] : childrenOf(tape, index);
  const child = first === undefined ? undefined : tape.entries[first];
  if (child && child.keyStart >= 0) return { start: child.keyStart, end: child.keyEnd };
  const lineEnd = tape.text.indexOf('\n', value.start);
  return { start: value.start, end: Math.min(value.end, lineEnd) };
}

function trimmedEnd(text: string, entry: TapeEntry): number {
  let end = entry.end;
  while (end > entry.start && /\s/.test(text.charAt(end - 1))) end--;
  return end;
}

/** `kind: …` with its value, else the first key of the document, else its first character. */
function kindLine(tape: Tape, root: number): Span {
  const children = [...childrenOf(tape, root)].flatMap((child) => tape.entries[child] ?? []);
  const kind = children.find((entry) => entry.key === 'kind');
  if (kind) return { start: kind.keyStart, end: Math.max(kind.keyEnd, trimmedEnd(tape.text, kind)) };
  const [first] = children;
  if (first) return { start: first.keyStart, end: first.keyEnd };
  const start = tape.entries[root]?.start ?? 0;
  return { start, end: Math.min(start + 1, tape.text.length) };
}
