import { FoldingRangeKind, FoldingRangeRequest } from 'vscode-languageserver';
import { foldsOf } from '../../core/features/folds.ts';
import { defineFeature } from '../feature.ts';

/** What of an open document can be folded away: whole lines, whatever else a client could fold. */
export const foldingRange = defineFeature({
  request: FoldingRangeRequest.type,
  capabilities: () => ({ foldingRangeProvider: true }),
  answer: ({ textDocument }, { look, client }) => {
    const opened = look(textDocument.uri);
    if (!opened) return null;
    return foldsOf(opened.file.tape)
      .slice(0, client.textDocument?.foldingRange?.rangeLimit)
      .map(({ kind, startLine, endLine }) => ({
        startLine,
        endLine,
        ...(kind === 'comment' ? { kind: FoldingRangeKind.Comment } : {}),
      }));
  },
});
