import {
  type ClientCapabilities,
  type CompletionItem,
  CompletionItemKind,
  type CompletionList,
  CompletionRequest,
  InsertTextFormat,
  InsertTextMode,
} from 'vscode-languageserver';
import { completionsAt } from '../../core/features/completion.ts';
import type { CompletionItem as Offered } from '../../core/features/completion-item.ts';
import { defineFeature } from '../feature.ts';

/** What could stand at the cursor: keys, values, ids, whole records. */
export const completion = defineFeature({
  request: CompletionRequest.type,
  capabilities: () => ({ completionProvider: { triggerCharacters: [':', ' ', '-', '[', '{', ',', '"', "'", '/'] } }),
  answer: ({ textDocument, position }, { look, client }): CompletionList | null => {
    const opened = look(textDocument.uri);
    if (!opened) return null;
    const { file, positions } = opened;
    const offset = positions.offsetAt(position);
    const found = completionsAt(file, offset, { hasSnippets: takes(client)?.snippetSupport === true });
    if (!found) return null;
    const range = positions.rangeOf(found);
    const typed = file.tape.text.slice(found.start, offset);
    // Lines after the first carry their indent; an editor that moves them itself would do so twice.
    const keepsIndent = takes(client)?.insertTextModeSupport?.valueSet.includes(InsertTextMode.asIs);
    const mode = keepsIndent ? { insertTextMode: InsertTextMode.asIs } : {};
    const items = found.items.map((item, order) => ({
      ...toItem(item, order, typed),
      textEdit: { range, newText: item.newText },
      ...mode,
    }));
    return { isIncomplete: found.isIncomplete, items };
  },
});

function takes(client: ClientCapabilities) {
  return client.textDocument?.completion?.completionItem;
}

function toItem(
  { label, what, detail, documentation, isSnippet }: Offered,
  order: number,
  typed: string,
): CompletionItem {
  return {
    label,
    kind: kindOf[what],
    ...(detail === undefined ? {} : { detail }),
    ...(documentation === undefined ? {} : { documentation }),
    sortText: String(order).padStart(4, '0'),
    // Editors drop what does not begin with the typed text; ids fit where they hold it anywhere.
    filterText: what === 'id' && label.indexOf(typed) > 0 ? typed + label : label,
    insertTextFormat: isSnippet ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
  };
}

const kindOf: Readonly<Record<Offered['what'], CompletionItemKind>> = {
  key: CompletionItemKind.Property,
  value: CompletionItemKind.EnumMember,
  id: CompletionItemKind.Reference,
  record: CompletionItemKind.Snippet,
};
