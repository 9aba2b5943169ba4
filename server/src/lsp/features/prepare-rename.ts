import { LSPErrorCodes, PrepareRenameRequest, type PrepareRenameResult, ResponseError } from 'vscode-languageserver';
import { isRefusal } from '../../core/edits/text-edit.ts';
import { prepareRename as prepare } from '../../core/features/rename-id.ts';
import { defineFeature } from '../feature.ts';

/** The id under the cursor, or why it cannot be renamed. */
export const prepareRename = defineFeature({
  request: PrepareRenameRequest.type,
  // Said with renaming.
  capabilities: () => ({}),
  answer: async ({ textDocument, position }, { look, whenIndexed }): Promise<PrepareRenameResult | null> => {
    const before = look(textDocument.uri);
    if (before) await whenIndexed(before.base);
    const opened = look(textDocument.uri);
    if (!opened) return null;
    const found = prepare(opened.file, opened.positions.offsetAt(position));
    if (isRefusal(found)) throw new ResponseError(LSPErrorCodes.RequestFailed, found.refused);
    return { range: opened.positions.rangeOf(found), placeholder: found.id };
  },
});
