import type { Path, Tape, TapeEntry } from '../syntax/tape.ts';
import { colonEnd, contentEnd, entryAt } from './entry-spans.ts';
import type { Value } from './intent.ts';
import { layoutOf } from './layout.ts';
import { isWithinFlow, type Located } from './place.ts';
import type { Refusal, TextEdit } from './text-edit.ts';
import { columnOf, hasComment, isRestBlank, lineBreakAt, lineEnd } from './text-lines.ts';
import { styleOf } from './write-scalar.ts';
import { flowValue, type Site, type Written, writeValue } from './write-value.ts';

/** Puts a value in the place of the one at the end of a chain, whatever that is. The comments around it stay. */
export function replaceValue(tape: Tape, place: Located, path: Path, value: Value): readonly TextEdit[] | Refusal {
  const index = place.chain.at(-1) ?? 0;
  const entry = entryAt(tape, index);
  const site = siteOf(tape, place, path);
  if (isWithinFlow(tape, place.chain)) return replaceInFlow(tape, index, flowValue(value, site));
  const head = headOf(tape, index);
  const lineBreak = lineBreakAt(tape.text, head.start);
  const written = writeValue(value, site);
  // A scalar may stand below its key, with comments above it.
  if (isLineScalar(entry) && written.below.length === 0) {
    return [{ start: entry.start, end: entry.end, text: written.head }];
  }
  const edits = replaceLines(tape.text, head, written, lineBreak);
  // In a text a `#` is no comment.
  const valueEnd = isCollection(entry) ? head.bodyEnd : entry.start;
  const isLost = edits.some(({ start, end }) => hasComment(tape.text, start, Math.min(end, valueEnd)));
  return isLost ? { refused: 'Comments stand in what would be replaced.' } : edits;
}

function isLineScalar({ kind }: TapeEntry): boolean {
  return kind === 'plain' || kind === 'quoted' || kind === 'alias';
}

function isCollection({ kind }: TapeEntry): boolean {
  return kind === 'map' || kind === 'list';
}

function siteOf(tape: Tape, { node, chain }: Located, path: Path): Site {
  const entry = entryAt(tape, chain.at(-1) ?? 0);
  const parent = entryAt(tape, chain.at(-2) ?? 0);
  const isItem = entry.keyStart < 0;
  // Keys stand at the column of their map. So do a list's dashes, and what hangs on them is written two columns further right.
  const column = columnOf(tape.text, parent.start);
  const at = columnOf(tape.text, isItem ? entry.start : entry.keyEnd + 2);
  return {
    node,
    path,
    layout: layoutOf(tape),
    column,
    at,
    style: styleOf(tape, entry),
  };
}

function replaceInFlow(tape: Tape, index: number, text: string): readonly TextEdit[] | Refusal {
  const entry = entryAt(tape, index);
  const { start, end, kind, keyStart } = entry;
  if (kind === 'empty' && keyStart >= 0) {
    const colon = colonEnd(tape, entry);
    return colon === undefined
      ? [{ start: entry.keyEnd, end: entry.keyEnd, text: `: ${text}` }]
      : [{ start: colon, end: colon, text: ` ${text}` }];
  }
  if (isCollection(entry) && hasComment(tape.text, start, end)) {
    return { refused: 'Comments stand in what would be replaced.' };
  }
  return [{ start, end, text }];
}

/** What of a value stands on the line of its key or dash, and where the lines below it end. */
interface Head {
  /** Where the value on the first line begins; behind the colon or dash where there is none. */
  readonly start: number;
  readonly end: number;
  /** Text to put before a value. */
  readonly gap: '' | ' ';
  /** End of the last line of the value, its line end left out. */
  readonly bodyEnd: number;
}

function headOf(tape: Tape, index: number): Head {
  const { text } = tape;
  const entry = entryAt(tape, index);
  const bodyEnd = contentEnd(tape, index);
  if (entry.kind === 'empty') {
    const isBehindMark = !/[ \t]/.test(text.charAt(bodyEnd - 1));
    return { start: bodyEnd, end: bodyEnd, gap: isBehindMark ? ' ' : '', bodyEnd };
  }
  const colon = colonEnd(tape, entry);
  const isBelow = colon !== undefined && /[\r\n]/.test(text.slice(colon, entry.start));
  if (isBelow) return { start: colon, end: colon, gap: ' ', bodyEnd };
  if (entry.kind === 'block') {
    const header = text.slice(entry.start, bodyEnd).search(/[^|>0-9+-]|$/);
    return { start: entry.start, end: entry.start + header, gap: '', bodyEnd };
  }
  return { start: entry.start, end: bodyEnd, gap: '', bodyEnd };
}

/** Replaces the head and the lines below it; a comment behind the head stays there. */
function replaceLines(text: string, head: Head, written: Written, lineBreak: string): readonly TextEdit[] {
  const { start, gap, bodyEnd } = head;
  const below = written.below.map((line) => lineBreak + line).join('');
  const put = written.head === '' ? '' : gap + written.head;
  // Where nothing stays on the line, the space before the old value goes too.
  const from = written.head === '' ? start - trailingSpaces(text, start) : start;
  const first: TextEdit = { start: from, end: head.end, text: put };
  const end = lineEnd(text, head.end);
  if (!isRestBlank(text, head.end)) return [{ start: from, end: bodyEnd, text: put + below }];
  return [first, { start: end, end: Math.max(end, bodyEnd), text: below }];
}

function trailingSpaces(text: string, offset: number): number {
  let count = 0;
  while (text.charAt(offset - count - 1) === ' ') count++;
  return count;
}
