import type { Line, Lines } from './lines.ts';
import { foldedBreak, leave, skipSpaces, unit } from './plain-text.ts';

/** A scalar over several lines: where its source ends, what it means, and where the text goes on. */
export interface LongScalar {
  readonly end: number;
  readonly text: string;
  readonly next: number;
}

interface Piece {
  readonly text: string;
  /** Blank lines before it. */
  readonly blanks: number;
}

/**
 * Reads a literal (`|`) or folded (`>`) scalar whose header stands at `at`. Explicit indentation, `+`, and blank lines with
 * spaces beyond the indent are left.
 */
export function readBlockScalar(text: string, at: number, header: Line, indent: number, lines: Lines): LongScalar {
  const isFolded = text.charCodeAt(at) === unit.greater;
  const isStripped = text.charCodeAt(at + 1) === unit.dash;
  const rest = at + (isStripped ? 2 : 1);
  const comment = skipSpaces(text, rest, header.end);
  if (comment < header.end && (comment === rest || text.charCodeAt(comment) !== unit.hash)) leave();
  const { pieces, end, next } = collect(text, header.next, indent, lines);
  const body = isFolded ? fold(pieces) : pieces.map(({ text: line, blanks }) => '\n'.repeat(blanks) + line).join('\n');
  return { text: isStripped ? body : `${body}\n`, end, next };
}

function collect(
  text: string,
  from: number,
  indent: number,
  lines: Lines,
): { pieces: Piece[]; end: number; next: number } {
  const pieces: Piece[] = [];
  let width = -1;
  let blanks = 0;
  let end = from;
  let line = lines.lineAt(from);
  for (; line; line = lines.lineAt(line.next)) {
    if (line.content === line.end) {
      // Spaces beyond the indent belong to the text, and before it is known they may be a fault.
      if (line.content > line.start + Math.max(width, 0)) leave();
      blanks++;
      continue;
    }
    const depth = line.content - line.start;
    if (width < 0) width = depth;
    if (depth < width) {
      if (depth > indent) leave();
      break;
    }
    pieces.push({ text: text.slice(line.start + width, line.end), blanks });
    blanks = 0;
    end = line.next;
  }
  if (width <= indent) leave();
  return { pieces, end, next: line ? line.start : text.length };
}

/** Lines joined as `>` asks: a space between lines of one paragraph; lines that begin with a space keep their line breaks. */
function fold(pieces: readonly Piece[]): string {
  let folded = '';
  let wasDeep = false;
  for (const [position, { text, blanks }] of pieces.entries()) {
    const isDeep = text.startsWith(' ');
    if (position === 0) folded = '\n'.repeat(blanks) + text;
    else if (isDeep || wasDeep) folded += '\n'.repeat(blanks + 1) + text;
    else folded += foldedBreak(blanks) + text;
    wasDeep = isDeep;
  }
  return folded;
}
