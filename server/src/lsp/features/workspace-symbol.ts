import { type SymbolInformation, WorkspaceSymbolRequest } from 'vscode-languageserver';
import { type MatchingRecord, recordsMatching } from '../../core/features/records-matching.ts';
import { byCodeUnits } from '../../core/text/by-code-units.ts';
import type { BaseSession } from '../base-session.ts';
import { type Context, defineFeature } from '../feature.ts';
import { recordSymbolKind } from '../record-symbol-kind.ts';

/** Records of all bases by a few letters of their id. */
export const workspaceSymbol = defineFeature({
  request: WorkspaceSymbolRequest.type,
  capabilities: () => ({ workspaceSymbolProvider: true }),
  answer: async ({ query }, context) => {
    const bases = [...(await context.allBases())].sort((a, b) => byCodeUnits(a.root, b.root));
    await Promise.all(bases.map(context.whenIndexed));
    const matches = recordsMatching(query, bases);
    const symbols = new Map<MatchingRecord<BaseSession>, SymbolInformation>();
    for (const base of bases) {
      const ofBase = matches.filter((match) => match.base === base);
      for (const [match, symbol] of await toSymbols(base, ofBase, context)) symbols.set(match, symbol);
    }
    // Best first, whichever base it is in.
    return matches.flatMap((match) => symbols.get(match) ?? []);
  },
});

/** The matches of one base with where they stand. */
async function toSymbols(
  base: BaseSession,
  matches: readonly MatchingRecord<BaseSession>[],
  { locate }: Context,
): Promise<ReadonlyMap<MatchingRecord<BaseSession>, SymbolInformation>> {
  const locations = await locate(
    base,
    matches.map(({ place }) => place),
  );
  const symbols = new Map<MatchingRecord<BaseSession>, SymbolInformation>();
  let next = 0;
  for (const match of matches) {
    const { id, kind, place } = match;
    const location = locations[next];
    // Files that are gone are left out as a whole.
    if (!location || location.uri !== base.uriOf(place.file)) continue;
    next++;
    symbols.set(match, { name: id, kind: recordSymbolKind(kind), location, containerName: place.file });
  }
  return symbols;
}
