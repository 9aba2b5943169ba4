import { type DefinitionLink, DefinitionRequest, type Location } from 'vscode-languageserver';
import { definitionAt } from '../../core/features/definition.ts';
import { defineFeature } from '../feature.ts';

/** From a reference to what it refers to. */
export const definition = defineFeature({
  request: DefinitionRequest.type,
  capabilities: () => ({ definitionProvider: true }),
  answer: async ({ textDocument, position }, { look, locate, whenIndexed, client }) => {
    const find = () => {
      const opened = look(textDocument.uri);
      const found = opened && definitionAt(opened.file, opened.positions.offsetAt(position));
      return opened && found ? { ...opened, found } : undefined;
    };
    let known = find();
    if (known && !known.file.isIndexed && known.found.places.length === 0) {
      await whenIndexed(known.base);
      known = find();
    }
    if (!known) return null;
    const { base, positions, found } = known;
    const locations = await locate(base, found.places);
    if (!client.textDocument?.definition?.linkSupport) return locations;
    return locations.map((location) => toLink(location, positions.rangeOf(found)));
  },
});

function toLink({ uri, range }: Location, originSelectionRange: DefinitionLink['targetRange']): DefinitionLink {
  return { originSelectionRange, targetUri: uri, targetRange: range, targetSelectionRange: range };
}
