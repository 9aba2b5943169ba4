import type { Span } from '../syntax/tape.ts';
import type { Stand } from './collection.ts';
import { findQuotedEnd } from './scan-quoted.ts';

/** The scalar or key that is being typed, together with what of it stands behind the cursor. */
export interface TokenAround extends Span {
  /** Quote around it that stays; undefined for plain text. */
  readonly quote: Stand['quote'];
  /** Offset behind it and its closing quote. */
  readonly after: number;
  /** Whether a colon follows that makes it a key. */
  readonly hasColon: boolean;
}

/** What is being typed at an offset of a document that ends at `end`. Without quotes, and within one line unless plain text spans more. */
export function tokenAround(text: string, stand: Stand, offset: number, end: number): TokenAround {
  const found = text.indexOf('\n', offset);
  const lineEnd = found < 0 || found > end ? end : found;
  const span =
    stand.quote === undefined ? plainSpan(text, stand, offset, lineEnd) : quotedSpan(text, stand, lineEnd, offset);
  const hasColon = /^[ \t]*:(?=[\s,[\]{}]|$)/.test(text.slice(span.after, Math.min(lineEnd + 1, span.after + 40)));
  return { ...span, hasColon };
}

function quotedSpan(
  text: string,
  { start, quote }: Stand,
  lineEnd: number,
  offset: number,
): Omit<TokenAround, 'hasColon'> {
  const { how, at } = findQuotedEnd(text, start, lineEnd, -1);
  if (how !== 'closed') return { start: start + 1, end: offset, quote, after: offset };
  // Behind its closing quote a text is replaced with both quotes or not at all.
  if (at <= offset) return { start, end: at, quote: undefined, after: at };
  return { start: start + 1, end: at - 1, quote, after: at };
}

function plainSpan(text: string, stand: Stand, offset: number, lineEnd: number): Omit<TokenAround, 'hasColon'> {
  const { start } = stand;
  const isFlow = stand.collections.at(-1)?.column === undefined && stand.collections.length > 0;
  let end = offset;
  const isOther = start === offset && /^(?:[\s"'[\]{}|>#&*!,]|-(?:\s|$))/.test(text.slice(offset, offset + 2));
  while (!isOther && end < lineEnd && !endsPlain(text, end, isFlow)) end++;
  while (end > offset && /\s/.test(text.charAt(end - 1))) end--;
  return { start, end, quote: undefined, after: end };
}

function endsPlain(text: string, at: number, isFlow: boolean): boolean {
  const unit = text.charAt(at);
  if (unit === '#') return /\s/.test(text.charAt(at - 1));
  if (unit === ':') return /[\s,[\]{}]|^$/.test(text.charAt(at + 1));
  return isFlow && /[,[\]{}]/.test(unit);
}
