/** How quoted text ends: at its quote, at the end of what is read, or, unclosed, before a line that cannot belong to it. */
export interface QuotedEnd {
  readonly how: 'closed' | 'reached' | 'given-up';
  /** The offset after the quote, or the start of that line. */
  readonly at: number;
}

/** Finds the end of the quoted text that begins at `start`. Lines of it stand right of column `edge`. */
export function findQuotedEnd(text: string, start: number, end: number, edge: number): QuotedEnd {
  const quote = text.charAt(start);
  let at = start + 1;
  while (at < end) {
    const unit = text.charAt(at);
    if (unit === quote) {
      const isDoubled = quote === "'" && text.charAt(at + 1) === quote && at + 1 < end;
      if (!isDoubled) return { how: 'closed', at: at + 1 };
      at++;
    }
    if (unit === '\\' && quote === '"') at++;
    if (unit === '\n' && isLineBeyond(text, at + 1, end, edge)) return { how: 'given-up', at: at + 1 };
    at++;
  }
  return { how: 'reached', at: end };
}

/** Whether the line at `start` begins at or left of column `edge`, so that nothing opened right of it can go on there. */
export function isLineBeyond(text: string, start: number, end: number, edge: number): boolean {
  let content = start;
  while (content < end && text.charAt(content) === ' ') content++;
  const isBlank = content < end && /[\r\n]/.test(text.charAt(content));
  return !isBlank && content - start <= edge;
}
