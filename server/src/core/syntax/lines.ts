import { leave, skipSpaces, unit } from './plain-text.ts';

/** A line of text: its first character, its first other than a space, its end without the line break, and the start of the next. */
export interface Line {
  readonly start: number;
  readonly content: number;
  readonly end: number;
  readonly next: number;
}

/** Walks a text line by line. Blank lines and comment lines are passed over unless asked for. */
export class Lines {
  /** The line the walk stands on, or undefined past the end. Its `content` moves right when a list item has been entered. */
  current: Line | undefined;

  constructor(private readonly text: string) {
    this.current = this.solid(0);
  }

  /** The next line with something on it. */
  advance(): void {
    this.current = this.solid(this.current?.next ?? this.text.length);
  }

  /** Goes on with the first line at or after an offset that begins a line. */
  moveTo(start: number): void {
    this.current = this.solid(start);
  }

  /** The line that begins at an offset, whatever is on it; undefined at the end of the text. */
  lineAt(start: number): Line | undefined {
    const { text } = this;
    if (start >= text.length) return undefined;
    const found = text.indexOf('\n', start);
    const next = found < 0 ? text.length : found + 1;
    const lineBreak = found < 0 ? text.length : found;
    const end = lineBreak > start && text.charCodeAt(lineBreak - 1) === unit.return ? lineBreak - 1 : lineBreak;
    return { start, content: skipSpaces(text, start, end), end, next };
  }

  private solid(from: number): Line | undefined {
    for (let line = this.lineAt(from); line; line = this.lineAt(line.next)) {
      if (line.content === line.end) continue;
      if (this.text.charCodeAt(line.content) !== unit.hash) return line;
    }
    return undefined;
  }
}

/** Whether a line ends the document: `---` at its left edge. `...` and directives are left to the other reader. */
export function isMarker(text: string, line: Line): boolean {
  if (line.content !== line.start) return false;
  if (text.startsWith('...', line.start) || text.charCodeAt(line.start) === 37) leave();
  if (!text.startsWith('---', line.start)) return false;
  return skipSpaces(text, line.start + 3, line.end) === line.end || leave();
}
