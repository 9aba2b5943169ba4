import { childrenOf, type Tape } from '../syntax/tape.ts';
import { commaEnd, contentEnd, dashesOf, entryAt, flowStarts, isBeside, isFlow, linesEnd } from './entry-spans.ts';
import { type Located, oddMap } from './place.ts';
import type { Refusal, TextEdit } from './text-edit.ts';
import {
  columnOf,
  hasComment,
  isFirstOnLine,
  isRestBlank,
  lineEnd,
  lineStart,
  nextLine,
  skipBlank,
} from './text-lines.ts';

/** Takes out the member at the end of a chain. It must not be the only one. */
export function removeMember(tape: Tape, { chain }: Located): readonly TextEdit[] | Refusal {
  const index = chain.at(-1) ?? 0;
  const parent = chain.at(-2) ?? 0;
  const odd = entryAt(tape, parent).kind === 'map' ? oddMap(tape, parent) : undefined;
  if (odd) return odd;
  const children = [...childrenOf(tape, parent)];
  const removal: Removal = { tape, parent, children, position: children.indexOf(index) };
  return isFlow(tape, parent) ? flowEdits(removal) : [lineSpan(removal)];
}

interface Removal {
  readonly tape: Tape;
  readonly parent: number;
  readonly children: readonly number[];
  readonly position: number;
}

function lineSpan({ tape, parent, children, position }: Removal): TextEdit {
  const { text } = tape;
  const { kind, start } = entryAt(tape, parent);
  const column = columnOf(text, start);
  const starts = kind === 'map' ? children.map((child) => entryAt(tape, child).keyStart) : dashesOf(tape, parent);
  const own = starts[position] ?? start;
  const end = linesEnd(tape, children[position] ?? parent, column);
  if (!isFirstOnLine(text, own)) {
    // Behind a dash: what follows, a comment or the next member, moves up to it.
    return { start: own, end: skipBlank(text, end), text: '' };
  }
  const next = nextLine(text, end);
  if (next > end) return { start: lineStart(text, own), end: next, text: '' };
  // The last line of a text that has no line end: the one before it goes instead.
  const before = lineStart(text, own);
  return { start: before - (text.startsWith('\r\n', before - 2) ? 2 : Math.min(before, 1)), end, text: '' };
}

function flowEdits({ tape, parent, children, position }: Removal): readonly TextEdit[] {
  const { text } = tape;
  const starts = flowStarts(tape, parent);
  const start = starts[position] ?? 0;
  const end = contentEnd(tape, children[position] ?? parent);
  const comma = commaEnd(text, end);
  const isOwnLine = isFirstOnLine(text, start);
  if (comma !== undefined && isOwnLine && isRestBlank(text, comma)) {
    return [cut(lineStart(text, start), nextLine(text, comma))];
  }
  const before = children[position - 1];
  const beforeEnd = before === undefined ? start : contentEnd(tape, before);
  const next = starts[position + 1];
  if (next !== undefined) {
    if (before !== undefined && isBeside(text, beforeEnd, start)) return [cut(beforeEnd, end)];
    return [cut(start, isBeside(text, end, next) ? next : (comma ?? end))];
  }
  const hasOwnLines = isOwnLine && isRestBlank(text, end);
  if (!hasComment(text, beforeEnd, start)) {
    return [cut(beforeEnd, hasOwnLines && comma === undefined ? lineEnd(text, end) : end)];
  }
  const commaBefore = commaEnd(text, beforeEnd);
  const own = hasOwnLines ? cut(lineStart(text, start), nextLine(text, end)) : cut(start, end);
  return comma === undefined && commaBefore !== undefined ? [cut(commaBefore - 1, commaBefore), own] : [own];
}

function cut(start: number, end: number): TextEdit {
  return { start, end, text: '' };
}
