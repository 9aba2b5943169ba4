import { type ClientCapabilities, type Diagnostic, type Range, ResourceOperationKind } from 'vscode-languageserver';
import type { Finding } from '../core/checks/finding.ts';
import type { Action, ActionRequest } from '../core/features/action.ts';
import { actionsAt } from '../core/features/actions.ts';
import type { FileText } from './base-session.ts';
import type { Context, Opened } from './feature.ts';

/** What can be done at a stretch of an open document. */
interface OfferedActions {
  readonly opened: Opened;
  /** The texts the edits were made for. */
  readonly texts: ReadonlyMap<string, FileText>;
  readonly actions: readonly Action[];
  /** What is shown of the document, by what was found. */
  readonly found: ReadonlyMap<Finding, Diagnostic>;
}

/** What can be done, once the newest text is checked; undefined where the document is not open or belongs to no base. */
export async function offeredActions(
  uri: string,
  { range, only, reach }: Pick<ActionRequest, 'only' | 'reach'> & { readonly range: Range },
  { look, lookIndexed, whenChecked, runsOf, inSlices, shownIn, today, client, token }: Context,
): Promise<OfferedActions | undefined> {
  // What a remedy would bring is not known before the whole base is.
  const before = await lookIndexed(uri);
  if (before) await whenChecked(before.base, token);
  const opened = look(uri);
  const runs = opened && runsOf(opened.base);
  if (!runs) return undefined;
  const { base, file, positions } = opened;
  const found = shownIn(base).get(file.path)?.found ?? new Map<Finding, Diagnostic>();
  const { files, plan } = actionsAt({
    file,
    start: positions.offsetAt(range.start),
    end: positions.offsetAt(range.end),
    findings: [...found.keys()],
    runs,
    today: today(),
    only,
    reach,
    ...abilitiesOf(client),
  });
  const texts = await base.textsOf(files);
  const isStale = () => token.isCancellationRequested || look(uri)?.version !== opened.version;
  return { opened, texts, actions: await inSlices(plan(texts), isStale), found };
}

function abilitiesOf({ workspace }: ClientCapabilities): {
  readonly hasSnippets: boolean;
  readonly hasNewFiles: boolean;
} {
  const {
    documentChanges = false,
    snippetEditSupport = false,
    resourceOperations = [],
  } = workspace?.workspaceEdit ?? {};
  return {
    hasSnippets: documentChanges && snippetEditSupport,
    hasNewFiles: documentChanges && resourceOperations.includes(ResourceOperationKind.Create),
  };
}
