import type { Diagnostic } from 'vscode-languageserver';
import type { Fix } from '../core/checks/fix.ts';
import type { EditableText } from '../core/edits/plan-edits.ts';
import type { GuardedEdits } from '../core/edits/text-edit.ts';
import { fixAll } from '../core/features/fix-all.ts';
import type { Context, Opened } from './feature.ts';

/** What would mend the findings of an open document. */
interface OfferedFixes {
  readonly opened: Opened;
  readonly text: EditableText;
  /** Remedies with the diagnostic they would mend; some were found in an earlier text and cannot be made any more. */
  readonly offered: readonly (readonly [Diagnostic, readonly Fix[]])[];
}

/** The remedies of a document, once its newest text is checked; undefined where it is not open or belongs to no base. */
export async function offeredFixes(
  uri: string,
  { look, whenChecked, shownIn, token }: Context,
): Promise<OfferedFixes | undefined> {
  const before = look(uri);
  if (before) await whenChecked(before.base, token);
  const opened = look(uri);
  const { path = '', tape } = opened?.file ?? {};
  const contentId = opened?.base.opened.get(path)?.content.contentId;
  if (!opened || !tape || contentId === undefined) return undefined;
  return { opened, text: { tape, contentId }, offered: [...(shownIn(opened.base).get(path)?.fixes ?? [])] };
}

/** The edits of all remedies that need no choice. */
export function sureEdits({ text, offered }: OfferedFixes): GuardedEdits {
  const fixes = offered.flatMap(([, ofDiagnostic]) => ofDiagnostic);
  return fixAll(
    text,
    fixes.filter(({ kind }) => kind === 'fix'),
  );
}
