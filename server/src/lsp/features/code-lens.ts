import { type CodeLens, CodeLensRequest, type Command } from 'vscode-languageserver';
import { codeLenses } from '../../core/features/code-lenses.ts';
import type { CommandId } from '../command-rows.ts';
import { defineFeature } from '../feature.ts';

/** Figures above rules and families. Each carries its record and what it was made from. That of a family shows more of it; that of a rule has an empty command, so that it is text. */
export const codeLens = defineFeature({
  request: CodeLensRequest.type,
  capabilities: () => ({ codeLensProvider: {} }),
  answer: async ({ textDocument }, { lookIndexed, settings }): Promise<CodeLens[] | null> => {
    const opened = await lookIndexed(textDocument.uri);
    if (!opened) return null;
    const wants = { rules: settings['lenses.rules'], families: settings['lenses.families'] };
    return codeLenses(opened.file, wants).map(({ start, end, text, record, figures }) => ({
      range: opened.positions.rangeOf({ start, end }),
      command: commandOf(text, record, textDocument.uri),
      data: { record, figures },
    }));
  },
});

function commandOf(title: string, record: string, uri: string): Command {
  const [kind, id = ''] = record.split('/');
  if (kind !== 'family') return { title, command: '' };
  const command: CommandId = 'swaplore.showOdds';
  return { title, command, arguments: [uri, id] };
}
