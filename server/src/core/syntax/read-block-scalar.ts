import type { Line, Lines } from './lines.ts';
import { foldedBreak, leave, skipSpaces, unit } from './plain-text.ts';

/** A block scalar: where its source ends, what it means, and the line that follows it. */
interface BlockScalar {
  readonly end: number;
  readonly text: string;
  readonly rest: Line | undefined;
}

/**
 * Reads a literal (`|`) or folded (`>`) scalar whose header stands at `at`. Explicit indentation, `+`, and blank lines with
 * spaces beyond the indent are left.
 */
export function readBlockScalar(text: string, at: number, header: Line, indent: number, lines: Lines): BlockScalar {
  const isFolded = text.charCodeAt(at) === unit.greater;
  const isStripped = text.charCodeAt(at + 1) === unit.dash;
  checkHeaderEnd(text, at + (isStripped ? 2 : 1), header.end);
  let body = '';
  let width = -1;
  let blanks = 0;
  let wasDeep = false;
  let end = header.next;
  let line = lines.lineAt(end);
  for (; line; line = lines.lineAt(line.next)) {
    const depth = line.content - line.start;
    if (line.content === line.end) {
      // Spaces beyond the indent belong to the text, and before it is known they may be a fault.
      if (depth > Math.max(width, 0)) leave();
      blanks++;
      continue;
    }
    if (width >= 0 && depth < width) {
      if (depth > indent) leave();
      break;
    }
    // `>` makes one line of a paragraph; lines that begin with a space keep their line breaks.
    const isDeep = width >= 0 && depth > width;
    if (width < 0) body = '\n'.repeat(blanks);
    else body += isFolded && !isDeep && !wasDeep ? foldedBreak(blanks) : '\n'.repeat(blanks + 1);
    if (width < 0) width = depth;
    body += text.slice(line.start + width, line.end);
    blanks = 0;
    wasDeep = isDeep;
    end = line.next;
  }
  if (width <= indent) leave();
  return { text: isStripped ? body : `${body}\n`, end, rest: line };
}

/** Behind its `|` or `>` a header has spaces and a comment at most. */
function checkHeaderEnd(text: string, at: number, end: number): void {
  const comment = skipSpaces(text, at, end);
  if (comment < end && (comment === at || text.charCodeAt(comment) !== unit.hash)) leave();
}
