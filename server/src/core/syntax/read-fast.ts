/**
 * Invariant 5: the second reader, for clean files in bulk. It knows the plain subset of YAML that records are written in, gives the
 * very tape the recovering reader gives, and gives up at anything else: tabs, anchors, tags, quoted keys, rare escapes, odd
 * indentation, and every fault. Giving up costs a second reading; being wrong would cost trust.
 * Laws (test/property/read-fast.property.test.ts):
 * - what the fast reader reads, the recovering reader reads identically
 */
import { isMarker, type Line, Lines } from './lines.ts';
import { canStartPlain, foldedBreak, giveUp, leave, skipSpaces, trimEnd, unit } from './plain-text.ts';
import { readBlockScalar } from './read-block-scalar.ts';
import { readFlow } from './read-flow.ts';
import { readQuoted } from './read-quoted.ts';
import type { Tape, TapeDocument } from './tape.ts';
import { TapeBuilder } from './tape-builder.ts';

/** Characters that YAML treats in ways of its own, or not at all. Naming those that are allowed takes half the time. */
const oddCharacter = /[^\n\r -~\u0080-\ufefe\uff00-\uffff]/;
/** Ends a line for some readers only. */
const loneReturn = /\r(?!\n)/;

/** The tape of a clean text in the plain subset, or undefined where the recovering reader has to look. */
export function readFast(text: string): Tape | undefined {
  if (oddCharacter.test(text) || (text.includes('\r') && loneReturn.test(text))) return undefined;
  try {
    return new FastReader(text).read();
  } catch (reason) {
    if (reason === giveUp) return undefined;
    throw reason;
  }
}

class FastReader {
  private readonly lines: Lines;
  private readonly tape = new TapeBuilder();

  constructor(private readonly text: string) {
    this.lines = new Lines(text);
  }

  read(): Tape {
    const documents: TapeDocument[] = [];
    while (this.lines.current) {
      if (isMarker(this.text, this.lines.current)) this.lines.advance();
      // A document that holds nothing counts too, and what makes one is better known elsewhere.
      if (isMarker(this.text, this.line())) leave();
      documents.push({ root: this.tape.entries.length, isBroken: false });
      this.node(-1);
      if (this.lines.current && !isMarker(this.text, this.lines.current)) leave();
    }
    if (documents.length === 0) leave();
    return { text: this.text, entries: this.tape.entries, documents };
  }

  /** A map or list that begins on the current line, deeper than `parent`. */
  private node(parent: number): void {
    const line = this.line();
    const indent = line.content - line.start;
    if (indent <= parent) leave();
    if (this.isItem(line)) this.list(indent);
    else this.map(indent);
  }

  private line(): Line {
    return this.lines.current ?? leave();
  }

  private isItem(line: Line): boolean {
    return this.isItemAt(line.content, line.end);
  }

  private isItemAt(at: number, end: number): boolean {
    const second = at + 1;
    return this.text.charCodeAt(at) === unit.dash && (second >= end || this.text.charCodeAt(second) === unit.space);
  }

  /** The current line where it goes on with a block at exactly this indent; lines further left end it, further right are left. */
  private lineAtIndent(indent: number): Line | undefined {
    const line = this.lines.current;
    if (!line || isMarker(this.text, line)) return undefined;
    const depth = line.content - line.start;
    if (depth > indent) leave();
    return depth === indent ? line : undefined;
  }

  private list(indent: number): void {
    this.tape.openContainer('list', this.line().content);
    for (let line = this.lineAtIndent(indent); line && this.isItem(line); line = this.lineAtIndent(indent)) {
      const at = skipSpaces(this.text, line.content + 1, line.end);
      if (at === line.end || this.text.charCodeAt(at) === unit.hash)
        this.nodeBelow(at === line.content + 1 ? at : -1, indent, false);
      else if (this.isItemAt(at, line.end) || this.keyEnd(at, line.end) >= 0) this.nodeInItem(line, at);
      else this.value(at, line, indent);
    }
    this.tape.closeContainer();
  }

  /** A map or list that begins behind a `- `: its indent is where its first key or dash stands. */
  private nodeInItem(line: Line, at: number): void {
    this.lines.current = { ...line, content: at };
    this.node(at - line.start - 1);
  }

  private map(indent: number): void {
    this.tape.openContainer('map', this.line().content);
    for (let line = this.lineAtIndent(indent); line; line = this.lineAtIndent(indent)) {
      const end = this.keyEnd(line.content, line.end);
      if (end < 0) leave();
      this.tape.setKey(this.text, line.content, end);
      const at = skipSpaces(this.text, end + 1, line.end);
      if (at === line.end || this.text.charCodeAt(at) === unit.hash) this.nodeBelow(end, indent, true);
      else this.value(at, line, indent);
      if (this.lines.current && this.isItemOutside(indent)) break;
    }
    this.tape.closeContainer();
  }

  /** A list item at the indent of a map ends the map; it belongs to a list further out. */
  private isItemOutside(indent: number): boolean {
    const line = this.line();
    return line.content - line.start === indent && this.isItem(line);
  }

  /** The offset of the `:` that ends a key at `at`, or -1. Keys are letters, digits, `_`, `-`, `.` and `/`, unquoted. */
  private keyEnd(at: number, end: number): number {
    let colon = at;
    while (colon < end && isKeyUnit(this.text.charCodeAt(colon))) colon++;
    if (colon === at || this.text.charCodeAt(colon) !== unit.colon || this.text.charCodeAt(at) === unit.dash) return -1;
    return colon + 1 === end || this.text.charCodeAt(colon + 1) === unit.space ? colon : -1;
  }

  /** What stands on the lines below a key or dash that has nothing behind it; `at` is where an empty value would be, -1 if only the other reader knows. */
  private nodeBelow(at: number, indent: number, isKey: boolean): void {
    const { next } = this.line();
    this.lines.advance();
    const line = this.lines.current;
    const depth = line && !isMarker(this.text, line) ? line.content - line.start : -1;
    if (!line || depth < indent || (depth === indent && !(isKey && this.isItem(line)))) {
      if (at < 0) leave();
      this.tape.scalar('empty', at, at, '');
    } else if (this.isItem(line) || this.keyEnd(line.content, line.end) >= 0) {
      this.node(depth - 1);
    } else {
      const first = this.text.charCodeAt(line.content);
      // Below a comment further left the other reader may find the scalar not indented far enough.
      if (first === unit.bar || first === unit.greater || line.start !== next) leave();
      this.value(line.content, line, indent);
    }
  }

  /** A value that begins at `at` on a line; `indent` is that of the map or list it stands in. */
  private value(at: number, line: Line, indent: number): void {
    switch (this.text.charCodeAt(at)) {
      case unit.doubleQuote:
      case unit.singleQuote: {
        const quoted = readQuoted(this.text, at, line, indent, this.lines);
        this.endOfValue(quoted.end, quoted.line.end);
        this.tape.scalar('quoted', at, quoted.end, quoted.text);
        this.lines.moveTo(this.lines.lineAt(quoted.line.next));
        return;
      }
      case unit.bar:
      case unit.greater: {
        const block = readBlockScalar(this.text, at, line, indent, this.lines);
        this.tape.scalar('block', at, block.end, block.text);
        this.lines.moveTo(block.rest);
        return;
      }
      case unit.openList:
      case unit.openMap:
        this.flow(at, indent);
        return;
      default:
        this.plain(at, line, indent);
    }
  }

  private flow(at: number, indent: number): void {
    const end = readFlow(this.text, at, indent, this.tape);
    const rest = this.lines.lineAt(end);
    if (rest) this.endOfValue(end, rest.end);
    this.lines.moveTo(rest && this.lines.lineAt(rest.next));
  }

  /** After a value only spaces and a comment may follow on its line. */
  private endOfValue(at: number, end: number): void {
    const rest = skipSpaces(this.text, at, end);
    if (rest < end && (rest === at || this.text.charCodeAt(rest) !== unit.hash)) leave();
  }

  private plain(at: number, line: Line, indent: number): void {
    if (!canStartPlain(this.text, at)) leave();
    let { end, isCommented } = this.plainOnLine(at, line.end);
    let text = this.text.slice(at, end);
    let blanks = 0;
    let further = this.lines.lineAt(line.next);
    for (; further; further = this.lines.lineAt(further.next)) {
      if (further.content === further.end) {
        blanks++;
        continue;
      }
      if (further.content - further.start <= indent || this.text.charCodeAt(further.content) === unit.hash) break;
      // A comment ends the scalar, so a further line is a fault.
      if (isCommented) leave();
      const more = this.plainOnLine(further.content, further.end);
      text += foldedBreak(blanks) + this.text.slice(further.content, more.end);
      blanks = 0;
      ({ end, isCommented } = more);
    }
    this.tape.scalar('plain', at, end, text);
    this.lines.moveTo(further);
  }

  /** Where the part of a plain scalar on one line ends, and whether a comment follows. A `: ` in it is a fault. */
  private plainOnLine(at: number, lineEnd: number): { end: number; isCommented: boolean } {
    const { text } = this;
    for (let found = at; found < lineEnd; found++) {
      const here = text.charCodeAt(found);
      if (here > unit.colon) continue;
      if (here === unit.hash && text.charCodeAt(found - 1) === unit.space) {
        return { end: trimEnd(text, at, found), isCommented: true };
      }
      if (here === unit.colon && (found + 1 === lineEnd || text.charCodeAt(found + 1) === unit.space)) leave();
    }
    return { end: trimEnd(text, at, lineEnd), isCommented: false };
  }
}

function isKeyUnit(character: number): boolean {
  return (
    (character >= 97 && character <= 122) ||
    (character >= 65 && character <= 90) ||
    (character >= 45 && character <= 57) ||
    character === 95
  );
}
