import type { Span, Tape } from '../syntax/tape.ts';
import { contentEnd } from './entry-spans.ts';
import { lineEnd } from './text-lines.ts';

const punctuation = ['-', ':', ',', '[', ']', '{', '}'] as const;

/** What a stretch of text other than white space is. A property is an anchor or a tag, a marker is `---`. */
type TokenKind =
  | 'key'
  | 'plain'
  | 'quoted'
  | 'block'
  | 'alias'
  | 'property'
  | 'comment'
  | 'marker'
  | (typeof punctuation)[number];

/** A stretch of text between white space. Block text begins at its `|` or `>` and ends before its last line end that counts. */
export interface Token extends Span {
  readonly kind: TokenKind;
}

/**
 * All tokens of a text of one sound document, in order, with white space alone between them; undefined where there is something that
 * formatting leaves alone: keys after `?`, keys that are empty or span lines, directives, `...`, or a character nobody expects.
 */
export function formatTokens(tape: Tape): readonly Token[] | undefined {
  const tokens: Token[] = [];
  let at = 0;
  for (const leaf of [...leavesOf(tape), { kind: 'end', start: tape.text.length, end: tape.text.length } as const]) {
    if (leaf.start < at || !readGap(tape.text, { start: at, end: leaf.start }, tokens)) return undefined;
    if (leaf.kind === 'end') return tokens;
    if (leaf.kind === 'key' && !isPlainKey(tape.text, leaf)) return undefined;
    tokens.push(leaf);
    at = leaf.end;
  }
  return tokens;
}

/** Keys and scalars: all that a tape knows of a text besides brackets. */
function leavesOf(tape: Tape): readonly Token[] {
  return tape.entries.flatMap(({ kind, keyStart, keyEnd, start, end }, index): Token[] => {
    const key: Token[] = keyStart < 0 ? [] : [{ kind: 'key', start: keyStart, end: keyEnd }];
    if (kind === 'map' || kind === 'list' || kind === 'empty') return key;
    return [...key, { kind, start, end: kind === 'block' ? contentEnd(tape, index) : end }];
  });
}

function isPlainKey(text: string, { start, end }: Span): boolean {
  return start < end && !text.slice(start, end).includes('\n');
}

/** Adds the tokens of a stretch without keys and scalars; false where one is not known. */
function readGap(text: string, gap: Span, tokens: Token[]): boolean {
  for (let at = gap.start; at < gap.end; ) {
    if (/\s/.test(text.charAt(at))) {
      at++;
      continue;
    }
    const token = tokenAt(text, at);
    if (!token || token.end > gap.end) return false;
    tokens.push(token);
    at = token.end;
  }
  return true;
}

const property = /!<[^>\s]*>|[&!][^\s,[\]{}]*/y;

function tokenAt(text: string, start: number): Token | undefined {
  const first = text.charAt(start);
  if (first === '#') {
    return { kind: 'comment', start, end: start + text.slice(start, lineEnd(text, start)).trimEnd().length };
  }
  if (first === '&' || first === '!') {
    property.lastIndex = start;
    return { kind: 'property', start, end: start + (property.exec(text)?.[0].length ?? 1) };
  }
  if (text.startsWith('---', start)) return { kind: 'marker', start, end: start + 3 };
  const kind = punctuation.find((sign) => sign === first);
  return kind && { kind, start, end: start + 1 };
}
