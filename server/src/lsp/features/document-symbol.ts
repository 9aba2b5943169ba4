import { type DocumentSymbol, DocumentSymbolRequest, type SymbolInformation, SymbolKind } from 'vscode-languageserver';
import { type OutlineItem, outlineOf } from '../../core/features/outline.ts';
import { defineFeature, type Opened } from '../feature.ts';
import { recordSymbolKind } from '../record-symbol-kind.ts';

/** The records of an open document and the keys in them that hold more than one value. */
export const documentSymbol = defineFeature({
  request: DocumentSymbolRequest.type,
  capabilities: () => ({ documentSymbolProvider: true }),
  answer: ({ textDocument }, { look, client }) => {
    const opened = look(textDocument.uri);
    if (!opened) return null;
    const items = outlineOf(opened.file.tape);
    return client.textDocument?.documentSymbol?.hierarchicalDocumentSymbolSupport
      ? items.map((item) => toSymbol(item, opened))
      : items.flatMap((item) => toFlatSymbols(item, opened, undefined));
  },
});

function toSymbol(item: OutlineItem, opened: Opened): DocumentSymbol {
  const { name, detail, nameStart, nameEnd, children } = item;
  return {
    name,
    ...(detail === undefined ? {} : { detail }),
    kind: kindOf(item),
    range: opened.positions.rangeOf(item),
    selectionRange: opened.positions.rangeOf({ start: nameStart, end: nameEnd }),
    children: children.map((child) => toSymbol(child, opened)),
  };
}

function toFlatSymbols(
  item: OutlineItem,
  opened: Opened,
  containerName: string | undefined,
): readonly SymbolInformation[] {
  const { uri, positions } = opened;
  const symbol: SymbolInformation = {
    name: item.name,
    kind: kindOf(item),
    location: { uri, range: positions.rangeOf(item) },
    ...(containerName === undefined ? {} : { containerName }),
  };
  return [symbol, ...item.children.flatMap((child) => toFlatSymbols(child, opened, item.name))];
}

function kindOf({ shape, detail }: OutlineItem): SymbolKind {
  if (shape === 'record') return recordSymbolKind(detail);
  return shape === 'map' ? SymbolKind.Property : SymbolKind.Array;
}
