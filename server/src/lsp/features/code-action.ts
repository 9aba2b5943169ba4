import { type CodeAction, CodeActionKind, CodeActionRequest, type Diagnostic } from 'vscode-languageserver';
import type { Fix } from '../../core/checks/fix.ts';
import { planEdits } from '../../core/edits/plan-edits.ts';
import { type FileEdits, isRefusal } from '../../core/edits/text-edit.ts';
import type { CheckedText } from '../../core/features/checked-text.ts';
import { fixAll } from '../../core/features/fix-all.ts';
import { weighFix } from '../../core/features/weigh-fix.ts';
import type { Span } from '../../core/syntax/tape.ts';
import { type Context, defineFeature, type Opened } from '../feature.ts';
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
    const { look, lookIndexed, whenChecked, runsOf, token } = context;
    // What a remedy would bring is known once the whole base is.
    const before = await lookIndexed(textDocument.uri);
    if (before) await whenChecked(before.base, token);
    const opened = look(textDocument.uri);
    const runs = opened && runsOf(opened.base);
    const contentId = opened?.base.opened.get(opened.file.path)?.content.contentId;
    if (!runs || contentId === undefined) return null;
    const { path, tape } = opened.file;
    const target: Target = { opened, checked: { path, text: { tape, contentId }, runs } };
    const { positions } = opened;
    const asked = { start: positions.offsetAt(range.start), end: positions.offsetAt(range.end) };
    const wants = (kind: string): boolean =>
      only?.some((wanted) => kind === wanted || kind.startsWith(`${wanted}.`)) ?? true;
    return [
      ...(wants(CodeActionKind.QuickFix) ? await quickFixes(target, asked, context) : []),
      // Offered only where it is asked for: on every cursor it would be one entry too many.
      ...(only !== undefined && wants(fixAllKind) ? await mendAll(target, context) : []),
    ];
  },
});

/** An open text, and the base with it as it was checked. */
interface Target {
  readonly opened: Opened;
  readonly checked: CheckedText;
}

async function quickFixes({ opened, checked }: Target, asked: Span, context: Context): Promise<CodeAction[]> {
  const { base, file, positions } = opened;
  const isAsked = ({ range }: Diagnostic): boolean =>
    positions.offsetAt(range.end) >= asked.start && positions.offsetAt(range.start) <= asked.end;
  const actions: CodeAction[] = [];
  for (const [diagnostic, fixes] of context.shownIn(base).get(file.path)?.fixes ?? []) {
    for (const fix of isAsked(diagnostic) ? fixes : []) {
      const edits = editsOf(fix, checked.text);
      if (!edits) continue;
      const { title, kind } = await context.inSlices(weighFix(fix, checked), isStale(opened, context));
      actions.push({
        title,
        kind: CodeActionKind.QuickFix,
        diagnostics: [diagnostic],
        isPreferred: kind === 'fix',
        edit: toEdit(opened, edits, context),
      });
    }
  }
  return actions;
}

async function mendAll({ opened, checked }: Target, context: Context): Promise<CodeAction[]> {
  const planned = await context.inSlices(fixAll(checked), isStale(opened, context));
  if (planned.edits.length === 0) return [];
  const edit = toEdit(opened, { file: opened.file.path, ...planned }, context);
  return [{ title: 'Mend what follows from the file alone', kind: fixAllKind, edit }];
}

/** Whether an answer about a text is of no use any more. */
function isStale({ uri, version }: Opened, { look, token }: Context): () => boolean {
  return () => token.isCancellationRequested || look(uri)?.version !== version;
}

function toEdit(opened: Opened, edits: FileEdits, { client }: Context): NonNullable<CodeAction['edit']> {
  const { base, file } = opened;
  return toWorkspaceEdit([edits], { base, client, texts: new Map([[file.path, opened]]) });
}

/** The edits of a remedy; undefined where the text has changed since it was found, or has no place for them. */
function editsOf({ file, contentId, intents }: Fix, text: CheckedText['text']): FileEdits | undefined {
  if (contentId !== text.contentId) return undefined;
  const planned = planEdits(text, intents);
  return isRefusal(planned) ? undefined : { file, ...planned };
}
