import { Lines } from './lines.ts';
import { canStartPlain, leave, skipSpaces, trimEnd, unit } from './plain-text.ts';
import { readQuoted } from './read-quoted.ts';
import type { TapeBuilder } from './tape-builder.ts';

/**
 * Reads a list or map between brackets, which may run over several lines, and gives the offset behind it. `indent` is that of the
 * line it belongs to: its further lines must stand more to the right, its last bracket at least as far.
 */
export function readFlow(text: string, at: number, indent: number, tape: TapeBuilder): number {
  return new Flow(text, indent, tape, at).collection();
}

class Flow {
  private readonly lines: Lines;
  /** Brackets that are open. */
  private depth = 0;

  constructor(
    private readonly text: string,
    private readonly indent: number,
    private readonly tape: TapeBuilder,
    private at: number,
  ) {
    this.lines = new Lines(text);
  }

  collection(): number {
    const isMap = this.unit() === unit.openMap;
    const close = isMap ? unit.closeMap : unit.closeList;
    this.tape.openContainer(isMap ? 'map' : 'list', this.at);
    this.at++;
    this.depth++;
    this.toToken();
    while (this.unit() !== close) {
      if (isMap) this.key();
      this.value();
      this.toToken();
      if (this.unit() === unit.comma) {
        this.at++;
        this.toToken();
      } else if (this.unit() !== close) leave();
    }
    this.at++;
    this.depth--;
    this.tape.closeContainer(this.at);
    return this.at;
  }

  private unit(): number {
    return this.text.charCodeAt(this.at);
  }

  /** Goes to the next character that is no space, over line breaks and comments. */
  private toToken(): void {
    const { text } = this;
    for (;;) {
      this.at = skipSpaces(text, this.at, text.length);
      const here = this.unit();
      if (here === unit.hash) {
        const before = text.charCodeAt(this.at - 1);
        // Right behind something else this is no comment but a fault.
        if (before !== unit.space && before !== unit.newline) leave();
      } else if (here !== unit.newline && here !== unit.return) return;
      const lineBreak = text.indexOf('\n', this.at);
      if (lineBreak < 0) leave();
      this.at = lineBreak + 1;
      this.checkIndent();
    }
  }

  private checkIndent(): void {
    const line = this.lines.lineAt(this.at);
    if (!line || line.content === line.end) return;
    const first = this.text.charCodeAt(line.content);
    const isLastBracket = this.depth === 1 && (first === unit.closeList || first === unit.closeMap);
    const indent = line.content - line.start;
    if (indent < this.indent || (indent === this.indent && !isLastBracket)) leave();
  }

  private key(): void {
    const start = this.at;
    if (!canStartPlain(this.text, start)) leave();
    const end = this.plainEnd();
    this.at = end;
    if (this.unit() !== unit.colon) leave();
    const key = trimEnd(this.text, start, end);
    if (key !== end) leave();
    this.tape.setKey(this.text, start, end);
    this.at = skipSpaces(this.text, end + 1, this.text.length);
  }

  private value(): void {
    const start = this.at;
    const here = this.unit();
    if (here === unit.openList || here === unit.openMap) {
      this.collection();
    } else if (here === unit.doubleQuote || here === unit.singleQuote) {
      const rest = this.lines.lineAt(start) ?? leave();
      const quoted = readQuoted(this.text, start, rest, this.indent, this.lines);
      this.tape.scalar('quoted', start, quoted.end, quoted.text);
      this.at = quoted.end;
    } else {
      if (!canStartPlain(this.text, start) || here === unit.newline || here === unit.return) leave();
      this.at = this.plainEnd();
      if (this.unit() === unit.colon) leave();
      const end = trimEnd(this.text, start, this.at);
      if (end === start) leave();
      this.tape.scalar('plain', start, end, this.text.slice(start, end));
    }
  }

  /** The offset of what ends a plain scalar here: a bracket, a comma, a comment, a line break, or a `:` that separates. */
  private plainEnd(): number {
    const { text } = this;
    for (let end = this.at; ; end++) {
      const here = text.charCodeAt(end);
      switch (here) {
        case unit.comma:
        case unit.openList:
        case unit.closeList:
        case unit.openMap:
        case unit.closeMap:
        case unit.newline:
        case unit.return:
          return end;
        case unit.hash:
          if (text.charCodeAt(end - 1) === unit.space) return end;
          break;
        case unit.colon:
          if (separates(text.charCodeAt(end + 1))) return end;
          break;
        default:
          if (Number.isNaN(here)) leave();
      }
    }
  }
}

/** Whether a character after a `:` between brackets makes it a separator. Brackets and commas do in some readers only: left. */
function separates(after: number): boolean {
  if (after === unit.space) return true;
  const isOdd =
    Number.isNaN(after) ||
    after === unit.newline ||
    after === unit.return ||
    after === unit.comma ||
    after === unit.openList ||
    after === unit.closeList ||
    after === unit.openMap ||
    after === unit.closeMap;
  return isOdd ? leave() : false;
}
