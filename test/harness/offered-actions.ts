import { findingsOf, runChecks } from '../../server/src/core/checks/run-checks.ts';
import { replaceIn } from '../../server/src/core/edits/text-edit.ts';
import type { Action, ActionRequest } from '../../server/src/core/features/action.ts';
import { actionsAt } from '../../server/src/core/features/actions.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { drained } from './drained.ts';
import { openAt } from './open-at.ts';

/** An action with the texts of the files it changes, snippets as they are sent. */
export interface Offered extends Action {
  readonly after: Readonly<Record<string, string>>;
}

/** A snippet as it reads once a word is typed where nothing is suggested, and the first of every choice is taken. */
export function filledIn(snippet: string, word: string): string {
  const part = /\\([\\$}])|\$\{\d+\|((?:\\.|[^,|])*)[^}]*\|\}|\$\{\d+:((?:\\.|[^}])*)\}|\$\d+/g;
  return snippet.replace(
    part,
    (_, escaped: string | undefined, choice: string | undefined, suggestion: string | undefined) =>
      escaped ?? (choice ?? suggestion)?.replace(/\\(.)/g, '$1') ?? word,
  );
}

/** What is offered at the cursor `$0` of a base, to an editor that takes anything unless it is said otherwise. */
export function offeredActions(
  files: Readonly<Record<string, string>>,
  options: Partial<Pick<ActionRequest, 'only' | 'hasSnippets' | 'hasNewFiles'>> = {},
): readonly Offered[] {
  const { file, offset } = openAt(files);
  const { snapshot } = file;
  const today = parseDate('2026-04-01')!;
  const run = drained(runChecks(snapshot, { today }));
  const findings = findingsOf(run).filter(({ place }) => place.file === file.path);
  const { files: needed, plan } = actionsAt({
    ...{
      file,
      start: offset,
      end: offset,
      findings,
      runs: [run] as const,
      today,
      only: undefined,
      hasSnippets: true,
      hasNewFiles: true,
      reach: 'named-files',
    },
    ...options,
  });
  const texts = new Map(
    needed.map((path) => {
      const { tape } = readText((files[path] ?? '').replace('$0', ''));
      return [path, { tape, contentId: snapshot.files.get(path)?.contentId ?? snapshot.configFile.contentId }] as const;
    }),
  );
  return drained(plan(texts)).map((action) => {
    const after = action.files.map(({ file: path, edits, isNew }) => {
      const before = isNew ? '' : texts.get(path)!.tape.text;
      return [isNew ? `${path} (new)` : path, replaceIn(before, edits)] as const;
    });
    return { ...action, after: Object.fromEntries(after) };
  });
}
