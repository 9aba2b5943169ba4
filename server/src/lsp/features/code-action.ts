import { type CodeAction, CodeActionKind, CodeActionRequest } from 'vscode-languageserver';
import type { Fix } from '../../core/checks/fix.ts';
import { type EditableText, planEdits } from '../../core/edits/plan-edits.ts';
import { type FileEdits, isRefusal } from '../../core/edits/text-edit.ts';
import { defineFeature } from '../feature.ts';
import { offeredFixes, sureEdits, weighed } from '../offered-fixes.ts';
import { toWorkspaceEdit } from '../to-workspace-edit.ts';

const fixAllKind = `${CodeActionKind.SourceFixAll}.swaplore`;

/** What would mend the findings in a stretch of text, and all that may be mended in the file without asking. */
export const codeAction = defineFeature({
  request: CodeActionRequest.type,
  capabilities: ({ textDocument }) => ({
    codeActionProvider: textDocument?.codeAction?.codeActionLiteralSupport
      ? { codeActionKinds: [CodeActionKind.QuickFix, fixAllKind] }
      : false,
  }),
  answer: async ({ textDocument, range, context: { only } }, context): Promise<CodeAction[] | null> => {
    const found = await offeredFixes(textDocument.uri, context);
    if (!found) return null;
    const { opened, checked, offered } = found;
    const { base, file, positions } = opened;
    const toEdit = (edits: FileEdits) =>
      toWorkspaceEdit([edits], { base, client: context.client, texts: new Map([[file.path, opened]]) });
    const wants = (kind: string): boolean =>
      only?.some((wanted) => kind === wanted || kind.startsWith(`${wanted}.`)) ?? true;
    const [start, end] = [positions.offsetAt(range.start), positions.offsetAt(range.end)];
    const actions: CodeAction[] = [];
    for (const [diagnostic, fixes] of wants(CodeActionKind.QuickFix) ? offered : []) {
      if (positions.offsetAt(diagnostic.range.end) < start || positions.offsetAt(diagnostic.range.start) > end)
        continue;
      for (const fix of fixes) {
        const edits = editsOf(fix, checked.text);
        if (!edits) continue;
        const { title, kind } = await weighed(fix, found, context);
        actions.push({
          title,
          kind: CodeActionKind.QuickFix,
          diagnostics: [diagnostic],
          isPreferred: kind === 'fix',
          edit: toEdit(edits),
        });
      }
    }
    // Offered only where it is asked for: on every cursor it would be one entry too many.
    if (only !== undefined && wants(fixAllKind)) {
      const planned = await sureEdits(found, context);
      if (planned.edits.length > 0) {
        const edit = toEdit({ file: file.path, ...planned });
        actions.push({ title: 'Mend what follows from the file alone', kind: fixAllKind, edit });
      }
    }
    return actions;
  },
});

/** The edits of a remedy; undefined where the text has changed since it was found, or has no place for them. */
function editsOf({ file, contentId, intents }: Fix, text: EditableText): FileEdits | undefined {
  if (contentId !== text.contentId) return undefined;
  const planned = planEdits(text, intents);
  return isRefusal(planned) ? undefined : { file, ...planned };
}
