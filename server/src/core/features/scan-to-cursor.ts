import { unit } from '../syntax/plain-text.ts';
import { type Arrival, type Collection, completeValue, openCollection, type Stand } from './collection.ts';
import { FlowScan } from './scan-flow.ts';
import { findQuotedEnd } from './scan-quoted.ts';

/**
 * Reads a document up to the cursor, which stands at `end`, and says what may be typed there. Broken lines are left behind at the
 * next line that cannot belong to them.
 */
export function scanToCursor(text: string, start: number, end: number): Arrival {
  const scan = new BlockScan(text, start, end);
  for (;;) {
    const arrival = scan.readLine();
    if (arrival) return arrival;
  }
}

/** Text that goes on over the lines right of a column. */
interface Continued {
  readonly what: 'plain' | 'block';
  readonly start: number;
  readonly column: number;
}

/** Reads block text line by line. Every step gives where the cursor stands once it is reached. */
class BlockScan {
  private readonly collections: Collection[] = [];
  private continued: Continued | undefined;
  private lineStart: number;

  constructor(
    private readonly text: string,
    private at: number,
    private readonly end: number,
  ) {
    this.lineStart = at;
  }

  readLine(): Arrival | undefined {
    this.lineStart = this.at;
    const content = this.skipSpaces(this.at);
    const column = content - this.lineStart;
    if (content === this.end) return this.freshLine(column);
    if (this.isLineEnd(content)) return this.nextLine(content);
    if (this.continued) {
      const { what, start } = this.continued;
      const goesOn = column > this.continued.column && (what === 'block' || !this.hasKey(content));
      if (goesOn && what === 'block') return this.toLineEnd(content);
      if (goesOn && this.text.charAt(content) !== '#') return this.plainLine(content, this.standAt('value', start));
      this.continued = undefined;
    }
    return this.text.charAt(content) === '#' ? this.toLineEnd(content) : this.content(content);
  }

  private get top(): Collection | undefined {
    return this.collections.at(-1);
  }

  /** Column of the block collection whose value is being read. */
  private get edge(): number {
    return this.top?.column ?? -1;
  }

  private skipSpaces(from: number): number {
    let at = from;
    while (at < this.end && (this.text.charAt(at) === ' ' || this.text.charAt(at) === '\t' || this.isReturn(at))) at++;
    return at;
  }

  /** Whether the first half of a line end stands here, which says no more than a space. */
  private isReturn(at: number): boolean {
    return this.text.charAt(at) === '\r' && this.text.charAt(at + 1) === '\n';
  }

  private isLineEnd(at: number): boolean {
    return this.text.charAt(at) === '\n';
  }

  private lineEnd(from: number): number {
    const found = this.text.indexOf('\n', from);
    return found < 0 || found > this.end ? this.end : found;
  }

  /** Goes on behind the line, or has reached the cursor in text that says nothing. */
  private toLineEnd(from: number): Arrival | undefined {
    const lineEnd = this.lineEnd(from);
    return lineEnd === this.end ? 'nothing' : this.nextLine(lineEnd);
  }

  private nextLine(from: number): undefined {
    this.at = this.lineEnd(from) + 1;
    return undefined;
  }

  private standAt(side: Stand['side'], start: number, quote?: '"' | "'"): Stand {
    return { collections: this.collections, edge: this.edge, side, start, quote, needsSpace: false };
  }

  /** The cursor stands on a line that is blank up to it. */
  private freshLine(column: number): Arrival {
    if (this.continued && column > this.continued.column) {
      const { what, start } = this.continued;
      return what === 'block' ? 'nothing' : this.standAt('value', start);
    }
    this.leave(column);
    const side = this.sideAt(column);
    return side === undefined ? 'nothing' : this.standAt(side, this.end);
  }

  /** Leaves what stands right of a column, and lists whose dashes stand where a map of theirs goes on. */
  private leave(column: number): void {
    const { collections } = this;
    while ((this.top?.column ?? -1) > column) collections.pop();
    const isListInMap = this.top?.kind === 'list' && collections.at(-2)?.column === column;
    if (isListInMap && this.top?.column === column) collections.pop();
  }

  /** What may begin at a column after what stood right of it was left; undefined where a value is there already, such as a map right of it. */
  private sideAt(column: number): Stand['side'] | undefined {
    const { top } = this;
    if (!top) return 'open';
    if (top.column === column) return top.kind === 'map' ? 'key' : 'item';
    return top.value === 'none' ? 'open' : undefined;
  }

  /** Reads dashes, a key and a value from the first character of a line on. */
  private content(start: number): Arrival | undefined {
    let at = start;
    while (this.isDash(at)) {
      const column = at - this.lineStart;
      if (!this.enterList(column)) return this.toLineEnd(at);
      const next = this.skipSpaces(at + 1);
      if (next === this.end) return { ...this.standAt('open', this.end), needsSpace: next === at + 1 };
      if (this.isLineEnd(next)) return this.nextLine(next);
      if (this.text.charAt(next) === '#') return this.toLineEnd(next);
      at = next;
    }
    const column = at - this.lineStart;
    const key = this.findKey(at);
    if (key) {
      this.enterMap(column, key.text);
      return this.value(key.end, 'value');
    }
    if (at === start) this.leave(column);
    // Two dashes at the left edge are on their way to being a marker.
    const side = column === 0 && this.text.slice(at, this.end) === '--' ? undefined : this.sideAt(column);
    // A key half typed: what follows right of it is not the value of the key before.
    const isKey = side === 'key' && this.lineEnd(at) < this.end;
    if (isKey) this.enterMap(column, this.text.slice(at, this.lineEnd(at)).trim());
    return this.value(at, side ?? 'nothing');
  }

  private isDash(at: number): boolean {
    if (this.text.charAt(at) !== '-') return false;
    return at + 1 === this.end || /\s/.test(this.text.charAt(at + 1));
  }

  /** Goes on in the list with dashes at this column or opens it; false where no list can be. */
  private enterList(column: number): boolean {
    while ((this.top?.column ?? -1) > column) this.collections.pop();
    const { top } = this;
    if (top?.kind !== 'list' || top.column !== column) {
      if (top?.value === 'complete' || (top?.kind === 'map' && top.key === undefined)) return false;
      if (top) top.value = 'nested';
      this.collections.push(openCollection('list', column));
    }
    const list = this.top;
    if (list) {
      list.position++;
      list.value = 'none';
    }
    return true;
  }

  private enterMap(column: number, key: string): void {
    this.leave(column);
    const { top } = this;
    if (top?.column !== column) {
      if (top) top.value = 'nested';
      this.collections.push(openCollection('map', column));
    }
    const map = this.top;
    if (!map) return;
    map.key = key;
    map.value = 'none';
    map.entries.set(key, '');
  }

  private hasKey(at: number): boolean {
    return this.findKey(at) !== undefined;
  }

  /** The key that begins at an offset and ends, with its colon, before `end`. */
  private findKey(at: number): { readonly text: string; readonly end: number } | undefined {
    const { text } = this;
    const lineEnd = this.lineEnd(at);
    const first = text.charAt(at);
    if (first === '"' || first === "'") {
      const quoted = findQuotedEnd(text, at, lineEnd, -1);
      const colon = this.skipSpaces(quoted.at);
      const isKey = quoted.how === 'closed' && colon < lineEnd && this.isColon(colon);
      return isKey ? { text: text.slice(at + 1, quoted.at - 1), end: colon + 1 } : undefined;
    }
    if ('[{#|>&*!%@`'.includes(first)) return undefined;
    for (let colon = at; colon < lineEnd; colon++) {
      if (text.charCodeAt(colon) !== unit.colon || !this.isColon(colon)) continue;
      const key = text.slice(at, colon).trimEnd();
      return key.includes(' #') ? undefined : { text: key, end: colon + 1 };
    }
    return undefined;
  }

  private isColon(at: number): boolean {
    return this.text.charAt(at) === ':' && (at + 1 === this.end || /\s/.test(this.text.charAt(at + 1)));
  }

  /** Reads the value that may begin at an offset. `side` says what the cursor stands on should it be reached in there. */
  private value(from: number, side: Stand['side'] | 'nothing'): Arrival | undefined {
    const at = this.skipSpaces(from);
    const unit = this.text.charAt(at);
    if (at === this.end) return side === 'nothing' ? side : this.gap(side, from);
    if (this.isLineEnd(at)) return this.nextLine(at);
    if (unit === '#' && /\s/.test(this.text.charAt(at - 1))) return this.toLineEnd(at);
    if (unit === '|' || unit === '>') {
      this.continued = { what: 'block', start: at, column: this.edge };
      completeValue(this.top, '');
      return this.toLineEnd(at);
    }
    if (unit === '&' || unit === '!') return this.properties(at, side);
    if (unit === '*') return this.toLineEnd(at);
    if (unit === '"' || unit === "'") return this.quoted(at, side);
    if (unit === '{' || unit === '[') return this.flow(at);
    this.continued = { what: 'plain', start: at, column: this.edge };
    return this.plainLine(at, side === 'nothing' ? side : this.standAt(side, at));
  }

  private gap(side: Stand['side'], from: number): Stand {
    return { ...this.standAt(side, this.end), needsSpace: from === this.end && this.text.charAt(from - 1) === ':' };
  }

  /** Anchors and tags before a value: one after the other, for there may be more than calls can be nested. */
  private properties(start: number, side: Stand['side'] | 'nothing'): Arrival | undefined {
    let at = start;
    while (at < this.end && /[&!]/.test(this.text.charAt(at))) {
      while (at < this.end && !/\s/.test(this.text.charAt(at))) at++;
      if (at === this.end) return 'nothing';
      at = this.skipSpaces(at);
    }
    return this.value(at, side);
  }

  private quoted(start: number, side: Stand['side'] | 'nothing'): Arrival | undefined {
    const { how, at } = findQuotedEnd(this.text, start, this.end, this.edge);
    if (how !== 'given-up' && at === this.end) {
      return side === 'nothing' ? side : this.standAt(side, start, this.text.charAt(start) === '"' ? '"' : "'");
    }
    const text = this.text.slice(start + 1, at - 1);
    completeValue(this.top, how === 'closed' && !text.includes('\n') ? text : '');
    return this.behind(how, at);
  }

  private flow(start: number): Arrival | undefined {
    const { collections } = this;
    const end = new FlowScan(this.text, start, this.end, collections, this.edge).run();
    if ('arrival' in end) return end.arrival;
    completeValue(this.top, '');
    return this.behind(end.how, end.at);
  }

  /** Goes on behind a value that may span lines. */
  private behind(how: 'closed' | 'given-up' | 'reached', at: number): Arrival | undefined {
    if (how === 'closed') return this.toLineEnd(at);
    this.at = at;
    return undefined;
  }

  /** A line of plain text: it ends before a comment. */
  private plainLine(from: number, stand: Arrival): Arrival | undefined {
    const lineEnd = this.lineEnd(from);
    const comment = this.commentIn(from, lineEnd);
    if (lineEnd === this.end) return comment === lineEnd ? stand : 'nothing';
    const isFirst = this.continued?.start === from;
    completeValue(this.top, isFirst ? this.text.slice(from, comment).trim() : '');
    if (comment < lineEnd) this.continued = undefined;
    return this.nextLine(lineEnd);
  }

  /** Where a comment begins behind plain text; the end of the line where there is none. */
  private commentIn(from: number, lineEnd: number): number {
    for (let at = from + 1; at < lineEnd; at++) {
      if (this.text.charCodeAt(at) === unit.hash && /\s/.test(this.text.charAt(at - 1))) return at;
    }
    return lineEnd;
  }
}
