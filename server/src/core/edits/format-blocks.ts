import type { Span } from '../syntax/tape.ts';
import type { Token } from './format-tokens.ts';
import { columnOf, lineStart } from './text-lines.ts';

/** A map or list without brackets. */
export interface Block {
  /** Where its keys or dashes stand. */
  readonly column: number;
  readonly isList: boolean;
  readonly parent: Block | undefined;
  /** Stays at its column: some of its lines lie outside the span, or hold block text that says how far it is indented. */
  readonly isPinned: boolean;
}

/** A token with what its place on the line depends on. */
export interface PlacedToken extends Token {
  /** The innermost block it stands in; undefined outside every block. */
  readonly block: Block | undefined;
  /** Whether a key or dash of its block begins here. */
  readonly isHead: boolean;
  /** Whether it is the first on its line. */
  readonly isFirst: boolean;
  /** Whether further lines stay as they are, and with them the column of the block. */
  readonly isKept: boolean;
  /** How many brackets are open around it; of a bracket, around what it encloses. */
  readonly brackets: number;
}

type OpenBlock = { -readonly [Name in keyof Block]: Block[Name] } & { readonly start: number; end: number };

/** Tokens of one sound document with the blocks they stand in. Only blocks whose lines all lie in the span may be moved. */
export function placeTokens(text: string, tokens: readonly Token[], span: Span): readonly PlacedToken[] {
  const open: OpenBlock[] = [];
  let brackets = 0;
  const close = (): void => {
    const block = open.pop();
    if (!block) return;
    if (lineStart(text, block.start) < span.start || block.end > span.end) block.isPinned = true;
    const parent = open.at(-1);
    if (!parent) return;
    parent.end = Math.max(parent.end, block.end);
    if (block.isPinned) parent.isPinned = true;
  };
  const placed = tokens.map((token, at): PlacedToken => {
    const isFirst = at === 0 || /\n/.test(text.slice(tokens[at - 1]?.end, token.start));
    const isHead = brackets === 0 && isHeadAt(text, tokens, at);
    if (isHead) {
      const column = columnOf(text, token.start);
      const isList = token.kind === '-';
      while (isOver(open.at(-1), column, isList)) close();
      const parent = open.at(-1);
      if (parent?.column !== column || parent.isList !== isList) {
        open.push({ column, isList, parent, isPinned: false, start: token.start, end: token.end });
      }
    }
    const block = open.at(-1);
    if (block && token.kind !== 'comment') block.end = token.end;
    const isKept = !isMovable(text, token) || isCommentOutside(span, token, tokens[at + 1]);
    if (block && isKept) block.isPinned = true;
    if (token.kind === '[' || token.kind === '{') brackets++;
    const here = { ...token, block, isHead, isFirst, isKept, brackets };
    if (token.kind === ']' || token.kind === '}') brackets--;
    return here;
  });
  while (open.length > 0) close();
  return placed;
}

/** Whether a key or dash at a column shows that a block has ended. The dashes of a list may stand where the key above them stands. */
function isOver(block: OpenBlock | undefined, column: number, isList: boolean): boolean {
  if (!block || block.column < column) return false;
  return block.column > column || (block.isList && !isList);
}

/** Whether a dash, or a key with the anchors and tags before it, begins here. */
function isHeadAt(text: string, tokens: readonly Token[], at: number): boolean {
  const kind = tokens[at]?.kind;
  if (kind === '-') return true;
  if (tokens[at - 1]?.kind === 'property' && isOneLine(text, tokens[at - 1], tokens[at])) return false;
  let last = at;
  while (tokens[last]?.kind === 'property' && isOneLine(text, tokens[last], tokens[last + 1])) last++;
  return tokens[last]?.kind === 'key';
}

function isOneLine(text: string, before: Token | undefined, after: Token | undefined): boolean {
  return before !== undefined && after !== undefined && !text.slice(before.end, after.start).includes('\n');
}

/**
 * Whether what holds a token may be indented otherwise. Not where it is a key that at the left edge some readers take for a marker, nor
 * where it is block text whose header counts the spaces or none of whose lines tells them.
 */
function isMovable(text: string, { kind, start, end }: Token): boolean {
  if (kind === 'key') return !/^(?:---|\.\.\.)/.test(text.slice(start, end));
  if (kind !== 'block') return true;
  const [header = '', ...lines] = text.slice(start, end).split('\n');
  return !/^[|>][-+]?[1-9]/.test(header) && (lines.length === 0 || lines.some((line) => line.trim() !== ''));
}

/** Whether below block text stands a comment that has to stay, and might become part of the text. */
function isCommentOutside(span: Span, { kind }: Token, next: Token | undefined): boolean {
  return kind === 'block' && next?.kind === 'comment' && (next.start < span.start || next.end > span.end);
}
