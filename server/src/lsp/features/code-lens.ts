import { type CodeLens, CodeLensRequest } from 'vscode-languageserver';
import { codeLenses } from '../../core/features/code-lenses.ts';
import { defineFeature } from '../feature.ts';

/** Figures above rules and families. Each carries its record and what it was made from; the command is empty, so that it is text. */
export const codeLens = defineFeature({
  request: CodeLensRequest.type,
  capabilities: () => ({ codeLensProvider: {} }),
  answer: async ({ textDocument }, { lookIndexed, settings }): Promise<CodeLens[] | null> => {
    const opened = await lookIndexed(textDocument.uri);
    if (!opened) return null;
    const wants = { rules: settings['lenses.rules'], families: settings['lenses.families'] };
    return codeLenses(opened.file, wants).map(({ start, end, text, record, figures }) => ({
      range: opened.positions.rangeOf({ start, end }),
      command: { title: text, command: '' },
      data: { record, figures },
    }));
  },
});
