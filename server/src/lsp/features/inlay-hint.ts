import { type InlayHint, InlayHintRequest } from 'vscode-languageserver';
import { inlayHints } from '../../core/features/inlay-hints.ts';
import { defineFeature } from '../feature.ts';

/** Short texts beside values: verdicts, shares compared and decoded values. Their tooltips are plain text, since they quote files. */
export const inlayHint = defineFeature({
  request: InlayHintRequest.type,
  capabilities: () => ({ inlayHintProvider: true }),
  answer: async ({ textDocument, range }, { lookIndexed, settings }): Promise<InlayHint[] | null> => {
    const opened = await lookIndexed(textDocument.uri);
    if (!opened) return null;
    const { file, positions } = opened;
    const span = { start: positions.offsetAt(range.start), end: positions.offsetAt(range.end) };
    const wants = { verdicts: settings['hints.verdicts'], decoded: settings['hints.decoded'] };
    return inlayHints(file, span, wants).map(({ offset, text, detail }) => ({
      position: positions.positionAt(offset),
      label: text,
      tooltip: detail,
      paddingLeft: true,
    }));
  },
});
