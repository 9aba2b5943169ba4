/**
 * Invariant 3: the only place where half-open UTF-16 offsets become lines and characters.
 * Laws (test/property/line-index.property.test.ts):
 * - offset to position and back gives the offset; from within a line end, the end of the line
 * - a position past the end of its line stands at the end of the line
 */

/** A place in a text: line and UTF-16 character, both from zero. */
export interface Position {
  readonly line: number;
  readonly character: number;
}

/** A half-open stretch of text in lines and characters. */
export interface Range {
  readonly start: Position;
  readonly end: Position;
}

/** Where the lines of one text begin. Lines end at `\n`, `\r\n` or `\r`, as in YAML and in the language server protocol. */
export class LineIndex {
  private readonly starts: readonly number[];

  constructor(private readonly text: string) {
    const starts = [0];
    for (let at = 0; at < text.length; at++) {
      const unit = text.charCodeAt(at);
      const isLineEnd = unit === 10 || (unit === 13 && text.charCodeAt(at + 1) !== 10);
      if (isLineEnd) starts.push(at + 1);
    }
    this.starts = starts;
  }

  /** The position of an offset; offsets outside the text are moved to its ends. */
  positionAt(offset: number): Position {
    const inside = Math.min(Math.max(offset, 0), this.text.length);
    let low = 0;
    let high = this.starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.startOf(middle) <= inside) low = middle;
      else high = middle - 1;
    }
    // Between the two characters of a line end no line goes on: an offset there stands at the end of its line.
    return { line: low, character: Math.min(inside, this.endOf(low)) - this.startOf(low) };
  }

  /** The offset of a position; past the end of a line means the end of that line, past the last line the end of the text. */
  offsetAt(position: Position): number {
    if (position.line >= this.starts.length) return this.text.length;
    const start = this.startOf(position.line);
    return Math.min(start + position.character, this.endOf(position.line));
  }

  /** Range between two offsets. */
  rangeOf(start: number, end: number): Range {
    return { start: this.positionAt(start), end: this.positionAt(end) };
  }

  /** Text of a line without its line end; empty past the last line. */
  lineText(line: number): string {
    return line < this.starts.length ? this.text.slice(this.startOf(line), this.endOf(line)) : '';
  }

  private startOf(line: number): number {
    return this.starts[line] ?? this.text.length;
  }

  private endOf(line: number): number {
    let end = this.startOf(line + 1);
    while (end > this.startOf(line) && /[\r\n]/.test(this.text.charAt(end - 1))) end--;
    return end;
  }
}
