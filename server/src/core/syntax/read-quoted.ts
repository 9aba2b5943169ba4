import type { Line, Lines } from './lines.ts';
import { foldedBreak, leave, trimEnd, unit } from './plain-text.ts';

/** A quoted scalar: where it ends, what it means, and the line it ends on. */
interface QuotedScalar {
  readonly end: number;
  readonly text: string;
  readonly line: Line;
}

/** What a backslash and these characters mean; every other escape, a backslash at the end of a line among them, is left. */
const escapes: ReadonlyMap<number, string> = new Map(
  Object.entries({ '"': '"', '\\': '\\', '/': '/', b: '\b', f: '\f', n: '\n', r: '\r', t: '\t' }).map(
    ([character, meaning]) => [character.charCodeAt(0), meaning],
  ),
);

/** Reads a quoted scalar that begins at `at` on a line. Its further lines must stand more to the right than `indent`. */
export function readQuoted(text: string, at: number, first: Line, indent: number, lines: Lines): QuotedScalar {
  const quote = text.charCodeAt(at);
  const start = at + 1;
  const closed = closingQuote(text, start, first.end, quote);
  if (closed >= 0) return { end: closed + 1, text: meaningOf(text.slice(start, closed), quote), line: first };
  let inside = text.slice(start, trimEnd(text, start, first.end));
  let blanks = 0;
  for (let line = lines.lineAt(first.next); line; line = lines.lineAt(line.next)) {
    if (line.content === line.end) {
      blanks++;
      continue;
    }
    if (line.content - line.start <= indent) leave();
    const close = closingQuote(text, line.content, line.end, quote);
    const end = close < 0 ? trimEnd(text, line.content, line.end) : close;
    inside += foldedBreak(blanks) + text.slice(line.content, end);
    blanks = 0;
    if (close >= 0) return { end: close + 1, text: meaningOf(inside, quote), line };
  }
  return leave();
}

/** The offset of the quote that closes a scalar on this line, or -1 where it goes on below. */
function closingQuote(text: string, from: number, end: number, quote: number): number {
  for (let found = from; found < end; found++) {
    const character = text.charCodeAt(found);
    if (character === quote) {
      if (quote === unit.doubleQuote || text.charCodeAt(found + 1) !== quote) return found;
      found++;
    } else if (character === unit.backslash && quote === unit.doubleQuote) {
      found++;
      if (!escapes.has(text.charCodeAt(found))) leave();
    }
  }
  return -1;
}

function meaningOf(inside: string, quote: number): string {
  if (quote === unit.singleQuote) return inside.replaceAll("''", "'");
  if (!inside.includes('\\')) return inside;
  return inside.replace(/\\(.)/g, (written, character: string) => escapes.get(character.charCodeAt(0)) ?? written);
}
