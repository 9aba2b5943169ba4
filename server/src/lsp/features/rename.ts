import { LSPErrorCodes, RenameRequest, ResponseError, type WorkspaceEdit } from 'vscode-languageserver';
import { isRefusal, type Refusal } from '../../core/edits/text-edit.ts';
import { filesNaming, prepareRename, renameId } from '../../core/features/rename-id.ts';
import { defineFeature } from '../feature.ts';
import { toWorkspaceEdit } from '../to-workspace-edit.ts';

/** Gives a record another id wherever it is named. */
export const rename = defineFeature({
  request: RenameRequest.type,
  capabilities: ({ textDocument }) => ({
    renameProvider: textDocument?.rename?.prepareSupport ? { prepareProvider: true } : true,
  }),
  answer: async ({ textDocument, position, newName }, { look, whenIndexed, client }): Promise<WorkspaceEdit | null> => {
    const before = look(textDocument.uri);
    if (before) await whenIndexed(before.base);
    const opened = look(textDocument.uri);
    if (!opened) return null;
    const { file, base, positions } = opened;
    const { snapshot } = file;
    const name = taken(prepareRename(file, positions.offsetAt(position)));
    const texts = await base.textsOf(filesNaming(snapshot, name));
    const edits = taken(renameId({ snapshot, kind: name.kind, id: name.id, newId: newName, texts }));
    return toWorkspaceEdit(edits, { base, client, texts });
  },
});

/** What was done; an editor shows why something was refused. */
function taken<Done extends object>(done: Done | Refusal): Done {
  if (isRefusal(done)) throw new ResponseError(LSPErrorCodes.RequestFailed, done.refused);
  return done;
}
