import { type ClientCapabilities, HoverRequest, MarkupKind } from 'vscode-languageserver';
import { hoverAt } from '../../core/features/hover.ts';
import { hoverMarkdown, hoverPlainText } from '../../core/features/render-hover.ts';
import { defineFeature } from '../feature.ts';

/** What the key or value under the pointer means. */
export const hover = defineFeature({
  request: HoverRequest.type,
  capabilities: () => ({ hoverProvider: true }),
  answer: ({ textDocument, position }, { look, client }) => {
    const opened = look(textDocument.uri);
    const found = opened && hoverAt(opened.file, opened.positions.offsetAt(position));
    if (!opened || !found) return null;
    const { base, positions } = opened;
    const kind = formatFor(client);
    const value =
      kind === MarkupKind.Markdown ? hoverMarkdown(found, (path) => base.uriOf(path)) : hoverPlainText(found);
    return { contents: { kind, value }, range: positions.rangeOf(found) };
  },
});

/** The form a client likes best; plain text where it names none. Source: LSP 3.17, HoverClientCapabilities. */
function formatFor(client: ClientCapabilities): MarkupKind {
  return client.textDocument?.hover?.contentFormat?.[0] ?? MarkupKind.PlainText;
}
