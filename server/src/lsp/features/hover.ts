import { type ClientCapabilities, HoverRequest, MarkupKind } from 'vscode-languageserver';
import { hasBaseFacts } from '../../core/features/base-facts.ts';
import { hoverAt } from '../../core/features/hover.ts';
import { hoverMarkdown, hoverPlainText } from '../../core/features/render-hover.ts';
import { defineFeature } from '../feature.ts';

/** What the key or value under the pointer means. */
export const hover = defineFeature({
  request: HoverRequest.type,
  capabilities: () => ({ hoverProvider: true }),
  answer: ({ textDocument, position }, { look, client }) => {
    const opened = look(textDocument.uri);
    if (!opened) return null;
    const { file } = opened;
    // Nobody holds the pointer still for as long as a large base takes to be counted.
    const isIndexed = file.isIndexed && hasBaseFacts(file.snapshot);
    const found = hoverAt({ ...file, isIndexed }, opened.positions.offsetAt(position));
    if (!found) return null;
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
