import type { Diagnostic } from 'vscode-languageserver';
import type { Fix } from '../core/checks/fix.ts';
import type { GuardedEdits } from '../core/edits/text-edit.ts';
import type { CheckedText } from '../core/features/checked-text.ts';
import { fixAll } from '../core/features/fix-all.ts';
import { weighFix } from '../core/features/weigh-fix.ts';
import type { Context, Opened } from './feature.ts';

/** What would mend the findings of an open document. */
interface OfferedFixes {
  readonly opened: Opened;
  readonly checked: CheckedText;
  /** Remedies with the diagnostic they would mend; some were found in an earlier text and cannot be made any more. */
  readonly offered: readonly (readonly [Diagnostic, readonly Fix[]])[];
}

/**
 * The remedies of a document, once its newest text is checked in its whole base: what a remedy would bring is not known before.
 * Undefined where it is not open or belongs to no base.
 */
export async function offeredFixes(uri: string, context: Context): Promise<OfferedFixes | undefined> {
  const { look, lookIndexed, whenChecked, runsOf, shownIn, token } = context;
  const before = await lookIndexed(uri);
  if (before) await whenChecked(before.base, token);
  const opened = look(uri);
  const { path = '', tape } = opened?.file ?? {};
  const runs = opened && runsOf(opened.base);
  const contentId = opened?.base.opened.get(path)?.content.contentId;
  if (!opened || !tape || !runs || contentId === undefined) return undefined;
  const checked = { path, text: { tape, contentId }, runs };
  return { opened, checked, offered: [...(shownIn(opened.base).get(path)?.fixes ?? [])] };
}

/** The remedy as it may be offered. */
export function weighed(fix: Fix, { opened, checked }: OfferedFixes, context: Context): Promise<Fix> {
  return context.inSlices(weighFix(fix, checked), isStale(opened, context));
}

/** The edits of all remedies that need no choice. */
export function sureEdits({ opened, checked }: OfferedFixes, context: Context): Promise<GuardedEdits> {
  return context.inSlices(fixAll(checked), isStale(opened, context));
}

/** Says whether an answer about a text is of no use any more. */
function isStale({ uri, version }: Opened, { look, token }: Context): () => boolean {
  return () => token.isCancellationRequested || look(uri)?.version !== version;
}
