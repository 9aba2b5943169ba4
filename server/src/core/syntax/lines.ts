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
    this.current = this.solid(this.lineAt(0));
  }

  /** The next line with something on it. */
  advance(): void {
    this.current = this.solid(this.current && this.lineAt(this.current.next));
  }

  /** Goes on with the first line, from this one on, with something on it. */
  moveTo(line: Line | undefined): void {
    this.current = this.solid(line);
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

  private solid(from: Line | undefined): Line | undefined {
    let line = from;
    while (line && (line.content === line.end || this.text.charCodeAt(line.content) === unit.hash)) {
      line = this.lineAt(line.next);
    }
    return line;
  }
}

/** Whether a line ends the document: `---` at its left edge. `...` and directives are left to the other reader. */
export function isMarker(text: string, line: Line): boolean {
  if (line.content !== line.start) return false;
  const first = text.charCodeAt(line.start);
  if (first === unit.percent || (first === unit.dot && text.startsWith('...', line.start))) leave();
  if (first !== unit.dash || !text.startsWith('---', line.start)) return false;
  return skipSpaces(text, line.start + 3, line.end) === line.end || leave();
}
