/**
 * What an editor offers while somebody types.
 * Laws (test/property/completion.property.test.ts):
 * - no offset of any text, whole, cut off or damaged, makes it throw
 * - a value that is chosen is read as that value, and nothing else changes
 * - a key that is chosen at the end of a text is read as a new key of that map
 */
import type { Span } from '../syntax/tape.ts';
import { type CompletionContext, completionContext } from './completion-context.ts';
import type { CompletionItem, Wording } from './completion-item.ts';
import { keyItems } from './completion-keys.ts';
import { recordItems } from './completion-records.ts';
import { valueItems } from './completion-values.ts';
import { nextId } from './next-id.ts';
import type { OpenFile } from './open-file.ts';

/** What could stand at the cursor, the likeliest first. Each item replaces the same stretch of text, which lies within one line. */
export interface Completions extends Span {
  readonly items: readonly CompletionItem[];
  /** Whether typing on, or the rest of the base, may bring up others. */
  readonly isIncomplete: boolean;
}

/** What could stand at an offset of a file; undefined where nothing is known. */
export function completionsAt(
  file: OpenFile,
  offset: number,
  { hasSnippets }: Pick<Wording, 'hasSnippets'>,
): Completions | undefined {
  const { text } = file.tape;
  const context = completionContext({ path: file.path, text }, offset);
  if (!context || text.slice(context.start, context.end).includes('\n')) return undefined;
  const wording: Wording = { hasSnippets, lineBreak: text.includes('\r\n') ? '\r\n' : '\n' };
  const { items, isCut } = itemsFor(file, context, wording);
  if (items.length === 0) return undefined;
  const before = `${context.needsSpace ? ' ' : ''}${context.needsDash ? '- ' : ''}`;
  return {
    start: context.start,
    end: context.end,
    items: before === '' ? items : items.map((item) => ({ ...item, newText: before + item.newText })),
    isIncomplete: isCut || (!file.isIndexed && context.side === 'value'),
  };
}

function itemsFor(
  file: OpenFile,
  context: CompletionContext,
  wording: Wording,
): { readonly items: readonly CompletionItem[]; readonly isCut: boolean } {
  if (context.side === 'value') return valueItems(file, context);
  const isNew = context.node === undefined && context.path.length === 0 && context.siblings.size === 0;
  const isAlone = isNew && context.column === 0 && !context.isInFlow && !context.hasColon;
  const { document } = context.extent;
  const records = isAlone ? recordItems(wording, (kind) => nextId(file, kind, { document, siblings: new Map() })) : [];
  return { items: [...keyItems(context, wording), ...records], isCut: false };
}
