import { unit } from '../syntax/plain-text.ts';
import { type Arrival, type Collection, completeValue, openCollection } from './collection.ts';
import { findQuotedEnd, isLineBeyond } from './scan-quoted.ts';

/** How text between brackets ends: closed, given up before a line that cannot belong to it, or at the cursor. */
export type FlowEnd = { readonly how: 'closed' | 'given-up'; readonly at: number } | { readonly arrival: Arrival };

/** What may come next between brackets. */
type Due = 'entry' | 'value' | 'comma';

/** Reads text between brackets. Opened collections go onto `collections`; it stops when there are no more of them than at first. */
export class FlowScan {
  private due: Due = 'entry';
  private readonly depth: number;
  private isAfterQuote = false;

  constructor(
    private readonly text: string,
    private at: number,
    private readonly end: number,
    private readonly collections: Collection[],
    private readonly edge: number,
  ) {
    this.depth = collections.length;
  }

  /** Reads from an opening bracket on. */
  run(): FlowEnd {
    while (this.at < this.end) {
      const stop = this.step(this.text.charAt(this.at));
      if (stop) return stop;
      if (this.collections.length <= this.depth) return { how: 'closed', at: this.at };
    }
    return { arrival: this.gap() };
  }

  /** Reads what follows the entry at the cursor and leaves when the collection that holds it ends; its entries are complete then. */
  finish(): void {
    const { collections } = this;
    this.due = 'comma';
    while (this.at < this.end && collections.length >= this.depth) {
      if (this.step(this.text.charAt(this.at))) return;
    }
  }

  private step(first: string): FlowEnd | undefined {
    const { text, end } = this;
    if (first === '\n' && isLineBeyond(text, this.at + 1, end, this.edge) && !this.closesOnLine(this.at + 1)) {
      this.collections.length = Math.min(this.depth, this.collections.length);
      return { how: 'given-up', at: this.at + 1 };
    }
    if (first === ' ' || /\s/.test(first)) this.at++;
    else if (first === '#' && /\s/.test(text.charAt(this.at - 1))) return this.comment();
    else if (first === '{' || first === '[') this.open(first);
    else if (first === '}' || first === ']') this.close(first);
    else if (first === ',') this.comma();
    else if (first === ':' && this.isColon()) this.colon();
    else if (first === '"' || first === "'") return this.quoted(first);
    else return this.plain();
    return undefined;
  }

  private get top(): Collection | undefined {
    return this.collections.at(-1);
  }

  private closesOnLine(start: number): boolean {
    return /^ *[\]}]/.test(this.text.slice(start, start + this.edge + 2));
  }

  private comment(): FlowEnd | undefined {
    const lineEnd = this.text.indexOf('\n', this.at);
    if (lineEnd < 0 || lineEnd >= this.end) return { arrival: 'nothing' };
    this.at = lineEnd;
    return undefined;
  }

  private open(bracket: '{' | '['): void {
    this.collections.push(openCollection(bracket === '{' ? 'map' : 'list', undefined));
    this.due = 'entry';
    this.at++;
  }

  private close(bracket: '}' | ']'): void {
    const kind = bracket === '}' ? 'map' : 'list';
    const found = this.collections.findLastIndex((open) => open.column !== undefined || open.kind === kind);
    // A bracket that closes nothing is passed over.
    if (found >= 0 && this.collections[found]?.column === undefined) {
      this.collections.length = found;
      completeValue(this.top, '');
    }
    this.due = 'comma';
    this.at++;
  }

  private comma(): void {
    const { top } = this;
    if (top?.kind === 'list') top.position++;
    else if (top) top.key = undefined;
    this.due = 'entry';
    this.at++;
  }

  private isColon(): boolean {
    const after = this.text.charAt(this.at + 1);
    return this.isAfterQuote || this.at + 1 >= this.end || /[\s,[\]{}]/.test(after);
  }

  private colon(): void {
    this.due = 'value';
    this.at++;
  }

  private quoted(quote: '"' | "'"): FlowEnd | undefined {
    const start = this.at;
    const { how, at } = findQuotedEnd(this.text, start, this.end, this.edge);
    if (how === 'given-up') {
      this.collections.length = Math.min(this.depth, this.collections.length);
      return { how, at };
    }
    if (at === this.end) return { arrival: this.stand(start, quote) };
    this.at = at;
    this.take(this.text.slice(start + 1, at - 1));
    this.isAfterQuote = true;
    return undefined;
  }

  private plain(): FlowEnd | undefined {
    const start = this.at;
    this.isAfterQuote = false;
    // Whatever it is, the first character belongs to it.
    this.at++;
    while (this.at < this.end && !this.endsPlain()) this.at++;
    if (this.at === this.end) return { arrival: this.stand(start, undefined) };
    this.take(this.text.slice(start, this.at).trim());
    return undefined;
  }

  private endsPlain(): boolean {
    switch (this.text.charCodeAt(this.at)) {
      case unit.colon:
        return this.isColon();
      case unit.hash:
        return /\s/.test(this.text.charAt(this.at - 1));
      case unit.comma:
      case unit.openList:
      case unit.closeList:
      case unit.openMap:
      case unit.closeMap:
      case unit.newline:
        return true;
      default:
        return false;
    }
  }

  /** Takes a complete scalar for what was due. */
  private take(text: string): void {
    const { top } = this;
    if (top?.kind === 'map' && this.due === 'entry') {
      top.key = text;
      top.entries.set(text, '');
    } else completeValue(top, text);
    this.due = 'comma';
  }

  private gap(): Arrival {
    return this.due === 'comma' ? 'nothing' : this.stand(this.end, undefined);
  }

  private stand(start: number, quote: '"' | "'" | undefined): Arrival {
    const side = this.top?.kind === 'map' && this.due === 'entry' ? 'key' : 'value';
    const needsSpace = this.due === 'value' && start === this.end && this.text.charAt(start - 1) === ':';
    return { collections: this.collections, edge: this.edge, side, start, quote, needsSpace };
  }
}
