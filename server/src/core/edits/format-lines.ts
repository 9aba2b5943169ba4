import type { Span } from '../syntax/tape.ts';
import type { TextEdit } from './text-edit.ts';
import { lineEnd, nextLine } from './text-lines.ts';

/** How far lines move, and the least column they may end up in. */
interface Move {
  readonly by: number;
  readonly least: number;
}

/** A text without quotes: further lines begin at a column, and all but the last, behind which others look, end with their last word. */
export function formatPlainLines(text: string, token: Span, column: number): readonly TextEdit[] {
  const further = furtherLines(text, token);
  if (further.length === 0) return [];
  const first = { start: token.start, end: lineEnd(text, token.start) };
  return [first, ...further].flatMap(({ start, end }, at) => {
    const spaces = /^\s*/.exec(text.slice(start, end))?.[0].length ?? 0;
    const last = start + text.slice(start, end).trimEnd().length;
    if (last <= start) return replaced(text, { start, end }, '');
    const indent = at === 0 ? [] : replaced(text, { start, end: start + spaces }, ' '.repeat(column));
    return [...indent, ...replaced(text, { start: last, end }, '')];
  });
}

/** Further lines of a quoted text move as the line does on which it begins. */
export function formatQuotedLines(text: string, token: Span, { by, least }: Move): readonly TextEdit[] {
  return furtherLines(text, token).flatMap(({ start, end }) => {
    const spaces = spacesAt(text, { start, end });
    // A line of white space says how many lines there are, no more.
    if (text.slice(start, end).trim() === '') return [];
    return replaced(text, { start, end: start + spaces }, ' '.repeat(Math.max(spaces + by, least)));
  });
}

/** The lines of block text, so that its own indent becomes `column`. */
export function formatBlockLines(text: string, token: Span, column: number): readonly TextEdit[] {
  const lines = furtherLines(text, token);
  const first = lines.find(({ start, end }) => spacesAt(text, { start, end }) < end - start);
  if (!first) return [];
  const own = spacesAt(text, first);
  return lines.flatMap(({ start, end }) => {
    const spaces = spacesAt(text, { start, end });
    // Spaces within the indent of a blank line are no text, and must not become any.
    const indent = spaces < own ? Math.min(spaces, column) : spaces - own + column;
    return replaced(text, { start, end: start + spaces }, ' '.repeat(indent));
  });
}

/** The least column at which a further line of a token begins; `Infinity` where none does. */
export function leastColumn(text: string, token: Span): number {
  const lines = furtherLines(text, token).filter(({ start, end }) => text.slice(start, end).trim() !== '');
  return Math.min(...lines.map((line) => spacesAt(text, line)));
}

/** All lines of a token but the first, without their line ends. */
function furtherLines(text: string, token: Span): readonly Span[] {
  const lines: Span[] = [];
  for (let start = nextLine(text, token.start); start < token.end; ) {
    lines.push({ start, end: Math.min(lineEnd(text, start), token.end) });
    start = Math.max(nextLine(text, start), start + 1);
  }
  return lines;
}

function spacesAt(text: string, { start, end }: Span): number {
  let at = start;
  while (at < end && text.charAt(at) === ' ') at++;
  return at - start;
}

/** The edit that puts a text in place of a stretch; none where it stands there already. */
export function replaced(text: string, { start, end }: Span, put: string): readonly TextEdit[] {
  return text.slice(start, end) === put ? [] : [{ start, end, text: put }];
}
