import type { Span, Tape } from '../syntax/tape.ts';
import { type Block, type PlacedToken, placeTokens } from './format-blocks.ts';
import { formatGap } from './format-gap.ts';
import { formatBlockLines, formatPlainLines, formatQuotedLines, leastColumn, replaced } from './format-lines.ts';
import { formatTokens } from './format-tokens.ts';
import type { TextEdit } from './text-edit.ts';
import { columnOf, lineEnd, lineStart, nextLine } from './text-lines.ts';

/** One document: its text alone, as read, which lines may be touched, and how lines end that have no end yet. */
export interface FormatRequest {
  readonly tape: Tape;
  /** Whole lines. */
  readonly span: Span;
  readonly lineBreak: string;
}

/** Edits that lay a sound document out, sorted and apart from one another; undefined where it is laid out in a way that is left alone. */
export function proposeFormat(request: FormatRequest): readonly TextEdit[] | undefined {
  const { tape, span } = request;
  const tokens = formatTokens(tape);
  if (!tokens) return undefined;
  const placed = placeTokens(tape.text, tokens, span);
  // What begins behind `---` has no line of its own to be moved.
  if (placed[0]?.kind === 'marker' && placed[1]?.isHead && !placed[1].isFirst) return undefined;
  // Readers differ about texts that go on further left than YAML allows.
  if (placed.some((token) => isTooFarLeft(tape.text, token))) return undefined;
  const edits = new FormatPass(request, placed).edits();
  return edits.filter(({ start, end }) => start >= span.start && end <= span.end);
}

function isTooFarLeft(text: string, { kind, start, end, block }: PlacedToken): boolean {
  return (kind === 'plain' || kind === 'quoted') && leastColumn(text, { start, end }) <= (block?.column ?? -1);
}

/** Columns between a map or list and what is inside it. */
const step = 2;

class FormatPass {
  private readonly text: string;
  /** For each open bracket, the column of the line it stands on. */
  private readonly brackets: number[] = [];
  /** Column of the current line between brackets. */
  private lineColumn = 0;
  /** The last key or dash of a block on the current line. */
  private lineHead: PlacedToken | undefined;
  private readonly columns = new Map<Block, number>();

  constructor(
    private readonly request: FormatRequest,
    private readonly tokens: readonly PlacedToken[],
  ) {
    this.text = request.tape.text;
  }

  edits(): readonly TextEdit[] {
    const edits = this.tokens.flatMap((token, at) => [...this.gapBefore(token, at), ...this.inside(token, at)]);
    return [...edits, ...this.end()];
  }

  /** The new column of a block. */
  private columnFor(block: Block): number {
    const known = this.columns.get(block);
    if (known !== undefined) return known;
    const below = block.parent ? this.columnFor(block.parent) + step : 0;
    const column = block.isPinned ? block.column : below;
    this.columns.set(block, column);
    return column;
  }

  /** The new column of values in a block that stand on lines of their own. */
  private valueColumn({ block }: PlacedToken): number {
    return block ? this.columnFor(block) + step : 0;
  }

  private bracketColumn(): number {
    return (this.brackets.at(-1) ?? 0) + step;
  }

  private gapBefore(token: PlacedToken, at: number): readonly TextEdit[] {
    const before = this.tokens[at - 1];
    if (token.isFirst) this.lineHead = undefined;
    const column = token.isFirst ? this.firstColumn(token, at) : undefined;
    this.enter(token, column);
    const start = before?.end ?? 0;
    if (!token.isFirst && before) {
      const spaces = formatGap(this.text, before, token);
      return spaces === undefined ? [] : replaced(this.text, { start, end: token.start }, ' '.repeat(spaces));
    }
    const line = lineStart(this.text, token.start);
    const keepsBlank = before !== undefined && before.kind !== 'marker';
    return [
      ...this.lineEnds(before, line, keepsBlank ? 1 : 0),
      ...(column === undefined ? [] : replaced(this.text, { start: line, end: token.start }, ' '.repeat(column))),
    ];
  }

  /** White space behind a token and on the blank lines below it, of which so many stay. */
  private lineEnds(before: PlacedToken | undefined, until: number, kept: number): readonly TextEdit[] {
    const { text } = this;
    const edits: TextEdit[] = [];
    let line = 0;
    if (before) {
      edits.push(...replaced(text, { start: before.end, end: lineEnd(text, before.end) }, ''));
      line = nextLine(text, before.end);
    }
    for (let blank = 0; line < until; blank++) {
      const next = nextLine(text, line);
      edits.push(...replaced(text, { start: line, end: blank < kept ? lineEnd(text, line) : next }, ''));
      line = next;
    }
    return edits;
  }

  /** Keeps track of brackets and of what begins on this line. */
  private enter(token: PlacedToken, column: number | undefined): void {
    if (token.isHead) this.lineHead = token;
    if (column !== undefined) this.lineColumn = column;
    if (token.kind === '[' || token.kind === '{') {
      if (token.brackets === 1 && !token.isFirst) this.lineColumn = this.openingColumn(token);
      this.brackets.push(this.lineColumn);
    } else if (token.kind === ']' || token.kind === '}') this.brackets.pop();
  }

  /** The column that lines between brackets are indented against where these open behind a key or dash. */
  private openingColumn(token: PlacedToken): number {
    const { lineHead } = this;
    return lineHead?.block && lineHead.kind !== '-' ? this.columnFor(lineHead.block) : this.valueColumn(token);
  }

  /** The new column of a token that is the first on its line; undefined where it stays. */
  private firstColumn(token: PlacedToken, at: number): number | undefined {
    const { kind, block, isHead, brackets } = token;
    if (kind === 'marker') return undefined;
    if (brackets > (kind === '[' || kind === '{' ? 1 : 0)) {
      return kind === ']' || kind === '}' ? this.closingColumn(token) : this.bracketColumn();
    }
    if (kind === 'comment') return this.commentColumn(token, at);
    return isHead && block ? this.columnFor(block) : this.valueColumn(token);
  }

  /** A closing bracket stands where the line begins on which it was opened. */
  private closingColumn({ start, block }: PlacedToken): number {
    const column = this.brackets.at(-1) ?? 0;
    if (!block || column > this.columnFor(block)) return column;
    // YAML wants it further right than the key of the map, but readers take it where people put it.
    return columnOf(this.text, start) <= block.column ? column : column + step;
  }

  /** A comment on lines of its own goes with what stands below it, or, where it stands further right, with what stands above. */
  private commentColumn(comment: PlacedToken, at: number): number {
    const below = this.below(comment, at);
    const column = columnOf(this.text, comment.start);
    if (column <= below.before) return below.after;
    let block = comment.block;
    while (block && block.column > column) block = block.parent;
    return block ? Math.max(this.columnFor(block), below.after) : below.after;
  }

  /** Columns of the line below a comment, before and after; at the end, those of the outermost block. */
  private below(comment: PlacedToken, at: number): { readonly before: number; readonly after: number } {
    let next = at + 1;
    while (this.tokens[next]?.kind === 'comment') next++;
    const token = this.tokens[next];
    if (token) return { before: columnOf(this.text, token.start), after: this.firstColumn(token, next) ?? 0 };
    let block = comment.block;
    while (block?.parent) block = block.parent;
    return block ? { before: block.column, after: this.columnFor(block) } : { before: 0, after: 0 };
  }

  /** Further lines of a scalar. */
  private inside(token: PlacedToken, at: number): readonly TextEdit[] {
    const { text } = this;
    const { kind, block, brackets } = token;
    if (kind === 'plain') {
      return formatPlainLines(text, token, brackets > 0 ? this.bracketColumn() : this.valueColumn(token));
    }
    if (kind === 'quoted') {
      const move = block ? this.columnFor(block) - block.column : 0;
      const by = token.isFirst ? (this.firstColumn(token, at) ?? 0) - columnOf(text, token.start) : move;
      return formatQuotedLines(text, token, { by, least: block ? this.columnFor(block) + 1 : 1 });
    }
    if (kind !== 'block' || token.isKept) return [];
    const { span } = this.request;
    const isInSpan = nextLine(text, token.start) >= span.start && token.end <= span.end;
    return isInSpan ? formatBlockLines(text, token, this.valueColumn(token)) : [];
  }

  /** One line end at the end and nothing else. */
  private end(): readonly TextEdit[] {
    const { text } = this;
    const last = this.tokens.at(-1);
    if (!last) return [];
    const rest = { start: last.end, end: text.length };
    if (text.slice(rest.start).includes('\n')) return this.lineEnds(last, text.length, 0);
    // A line of spaces that ends block text is part of it.
    const isBlank = last.kind === 'block' && text.slice(lineStart(text, last.end), last.end).trim() === '';
    return isBlank ? [] : replaced(text, rest, this.request.lineBreak);
  }
}
