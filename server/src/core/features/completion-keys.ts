import { type KeyRow, keyNodes, keyRowsIn } from '../schema/key-rows.ts';
import { kinds } from '../terms/kinds.ts';
import type { CompletionContext } from './completion-context.ts';
import { type CompletionItem, snippetText, type Wording, wordsOf } from './completion-item.ts';

/** The keys that the map at the cursor could still take: required ones first, then in the schema's order. */
export function keyItems(context: CompletionContext, wording: Wording): readonly CompletionItem[] {
  const missing = rowsOf(context).filter(({ name }) => !context.siblings.has(name));
  const ordered = [...missing.filter(({ required }) => required), ...missing.filter(({ required }) => !required)];
  return ordered.map((row) => {
    const { detail, documentation } = wordsOf(row);
    // What a kind is, is told of each kind apart.
    const words = { detail, documentation: context.node === undefined ? undefined : documentation };
    return { label: row.name, what: 'key', ...words, ...textOf(row, context, wording) };
  });
}

/** As long as a document does not say what it is, all that is known of it is that it should. */
function rowsOf({ node, path }: CompletionContext): readonly KeyRow[] {
  if (node !== undefined) return keyRowsIn(node, path);
  const [first] = kinds;
  return path.length > 0 ? [] : (keyNodes[first] ?? []).filter(({ name }) => name === 'kind');
}

function textOf(
  row: KeyRow,
  context: CompletionContext,
  { hasSnippets, lineBreak }: Wording,
): Pick<CompletionItem, 'newText' | 'isSnippet'> {
  const { name } = row;
  const isList = row.list === 'yes';
  const isMap = row.node !== undefined && row.type === 'map';
  if (context.hasColon) return { newText: name, isSnippet: false };
  if (!isList && !isMap) return { newText: `${name}: `, isSnippet: false };
  if (context.isInFlow) {
    const [open, close] = isList ? ['[', ']'] : ['{', '}'];
    const snippet = `${snippetText(name)}: ${open}$1${snippetText(close)}`;
    return hasSnippets ? { newText: snippet, isSnippet: true } : { newText: `${name}: `, isSnippet: false };
  }
  const column = context.column + (context.needsDash ? indentStep : 0) + indentStep;
  const newText = `${name}:${lineBreak}${' '.repeat(column)}${isList ? '- ' : ''}`;
  return { newText, isSnippet: false };
}

/** Columns by which what a key holds stands right of it. */
export const indentStep = 2;
