import { type CodeAction, CodeActionKind, CodeActionRequest } from 'vscode-languageserver';
import type { ActionKind } from '../../core/features/action.ts';
import { defineFeature } from '../feature.ts';
import { offeredActions } from '../offered-actions.ts';
import { toWorkspaceEdit } from '../to-workspace-edit.ts';

/** What the protocol calls each kind of action. */
const kindOf: Readonly<Record<ActionKind, CodeActionKind>> = {
  'quick-fix': CodeActionKind.QuickFix,
  refactor: CodeActionKind.RefactorRewrite,
  'fix-all': `${CodeActionKind.SourceFixAll}.swaplore`,
};

/** What can be done at a stretch of text: about findings, about records, and about all of the file that needs no choice. */
export const codeAction = defineFeature({
  request: CodeActionRequest.type,
  capabilities: ({ textDocument }) => ({
    codeActionProvider: textDocument?.codeAction?.codeActionLiteralSupport
      ? { codeActionKinds: Object.values(kindOf) }
      : false,
  }),
  answer: async ({ textDocument, range, context: { only } }, context): Promise<CodeAction[] | null> => {
    const wanted = { range, only: only && kindsWithin(only), reach: 'named-files' } as const;
    const offered = await offeredActions(textDocument.uri, wanted, context);
    if (!offered) return null;
    const { opened, texts, actions, found } = offered;
    return actions.map(({ title, kind, isSure, findings, files }) => ({
      title,
      kind: kindOf[kind],
      ...(findings.length > 0 ? { diagnostics: findings.flatMap((finding) => found.get(finding) ?? []) } : {}),
      isPreferred: isSure,
      edit: toWorkspaceEdit(files, { base: opened.base, client: context.client, texts }),
    }));
  },
});

/** The kinds of action that a client asks for by the protocol's names of these or of what they are part of. */
function kindsWithin(only: readonly CodeActionKind[]): ReadonlySet<ActionKind> {
  const kinds = Object.entries(kindOf) as [ActionKind, CodeActionKind][];
  return new Set(
    kinds.flatMap(([kind, name]) =>
      only.some((wanted) => wanted === '' || name === wanted || name.startsWith(`${wanted}.`)) ? kind : [],
    ),
  );
}
