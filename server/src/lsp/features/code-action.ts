import { type CodeAction, CodeActionKind, CodeActionRequest } from 'vscode-languageserver';
import type { Fix } from '../../core/checks/fix.ts';
import { type EditableText, planEdits } from '../../core/edits/plan-edits.ts';
import { type FileEdits, isRefusal } from '../../core/edits/text-edit.ts';
import { fixAll } from '../../core/features/fix-all.ts';
import { defineFeature, type Opened } from '../feature.ts';
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
  answer: async (
    { textDocument, range, context: { only } },
    { look, whenChecked, shownIn, client, token },
  ): Promise<CodeAction[] | null> => {
    const before = look(textDocument.uri);
    if (before) await whenChecked(before.base, token);
    const opened = look(textDocument.uri);
    const text = opened && textOf(opened);
    if (!text) return null;
    const { base, file, positions } = opened;
    const offered = [...(shownIn(base).get(file.path)?.fixes ?? [])];
    const toEdit = (edits: FileEdits) =>
      toWorkspaceEdit([edits], { base, client, texts: new Map([[file.path, opened]]) });
    const wants = (kind: string): boolean =>
      only?.some((wanted) => kind === wanted || kind.startsWith(`${wanted}.`)) ?? true;
    const [start, end] = [positions.offsetAt(range.start), positions.offsetAt(range.end)];
    const actions: CodeAction[] = [];
    for (const [diagnostic, fixes] of wants(CodeActionKind.QuickFix) ? offered : []) {
      if (positions.offsetAt(diagnostic.range.end) < start || positions.offsetAt(diagnostic.range.start) > end)
        continue;
      for (const fix of fixes) {
        const edits = editsOf(fix, text);
        if (!edits) continue;
        const { title, kind } = fix;
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
      const sure = offered.flatMap(([, fixes]) => fixes).filter((fix) => fix.kind === 'fix');
      const planned = fixAll(text, sure);
      if (planned.edits.length > 0) {
        const edit = toEdit({ file: file.path, ...planned });
        actions.push({ title: 'Mend what follows from the file alone', kind: fixAllKind, edit });
      }
    }
    return actions;
  },
});

function textOf({ base, file }: Opened): EditableText | undefined {
  const contentId = base.opened.get(file.path)?.content.contentId;
  return contentId === undefined ? undefined : { tape: file.tape, contentId };
}

/** The edits of a remedy; undefined where the text has changed since it was found, or has no place for them. */
function editsOf({ file, contentId, intents }: Fix, text: EditableText): FileEdits | undefined {
  if (contentId !== text.contentId) return undefined;
  const planned = planEdits(text, intents);
  return isRefusal(planned) ? undefined : { file, ...planned };
}
