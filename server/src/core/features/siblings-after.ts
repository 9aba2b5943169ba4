import type { Collection } from './collection.ts';

/**
 * Adds to a block map or list what stands in it on the lines after the cursor's, up to `end`: keys with their scalars, or scalar
 * items. `column` is where its keys or dashes stand.
 */
export function addSiblingsAfter(
  { kind, entries }: Pick<Collection, 'kind' | 'entries'>,
  column: number,
  { text, offset, end }: { readonly text: string; readonly offset: number; readonly end: number },
): void {
  let lineStart = text.indexOf('\n', offset) + 1;
  while (lineStart > 0 && lineStart < end) {
    const found = text.indexOf('\n', lineStart);
    const lineEnd = found < 0 || found > end ? end : found;
    let content = lineStart;
    while (content < lineEnd && text.charAt(content) === ' ') content++;
    const isSolid = content < lineEnd && !/[#\r]/.test(text.charAt(content));
    if (isSolid && content - lineStart < column) return;
    if (isSolid && content - lineStart === column) addLine(kind, entries, text.slice(content, lineEnd).trimEnd());
    lineStart = found + 1;
  }
}

function addLine(kind: Collection['kind'], entries: Map<string, string>, line: string): void {
  if (kind === 'list') {
    const item = /^-\s+(\S.*)$/.exec(line)?.[1] ?? '';
    const isScalar = item !== '' && !/^[[{|>]/.test(item) && !/:(?:\s|$)/.test(item);
    if (isScalar) entries.set(scalarIn(item), '');
    return;
  }
  const colon = line.indexOf(':');
  const value = line.slice(colon + 1);
  const key = colon < 0 || /^\S/.test(value) ? undefined : keyIn(line.slice(0, colon).trimEnd());
  if (key !== undefined) entries.set(key, scalarIn(value.trim()));
}

/** A key without its quotes; undefined for what begins something else. */
function keyIn(written: string): string | undefined {
  const quote = /^["']/.exec(written)?.[0];
  const isClosed = quote === undefined || (written.length > 1 && written.endsWith(quote));
  const key = quote === undefined ? written : written.slice(1, -1);
  return isClosed && /^(?:[^"'\s#[{-]|-\S)/.test(key) ? key.trim() : undefined;
}

/** A scalar without its quotes and the comment behind it; empty for block text and what stands between brackets. */
function scalarIn(text: string): string {
  const quoted = /^"((?:[^"\\]|\\.)*)"|^'((?:[^']|'')*)'/.exec(text);
  if (quoted) return quoted[1] ?? quoted[2] ?? '';
  return /^[[{|>&*!]/.test(text) ? '' : text.replace(/(?:^|\s)#.*$/s, '').trim();
}
