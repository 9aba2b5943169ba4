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
    const item = /^-\s+(.*)$/.exec(line)?.[1] ?? '';
    const isScalar = item !== '' && !/^[[{|>]/.test(item) && !/:(?:\s|$)/.test(item);
    if (isScalar) entries.set(scalarIn(item), '');
    return;
  }
  const [, quote, key = '', value = ''] = /^(["']?)([^"'\s#[{-][^:]*|-[^:\s][^:]*)\1\s*:(?:\s+(.*))?$/.exec(line) ?? [];
  if (quote !== undefined) entries.set(key.trim(), scalarIn(value));
}

/** A scalar without its quotes and the comment behind it; empty for block text and what stands between brackets. */
function scalarIn(text: string): string {
  const quoted = /^"((?:[^"\\]|\\.)*)"|^'((?:[^']|'')*)'/.exec(text);
  if (quoted) return quoted[1] ?? quoted[2] ?? '';
  return /^[[{|>&*!]/.test(text) ? '' : text.replace(/(?:^|\s)#.*$/, '').trim();
}
