import type { Fix } from '../../server/src/core/checks/fix.ts';
import { type ResolvedFinding, resolveFindings } from '../../server/src/core/checks/resolve-findings.ts';
import { type CheckedBase, findingsOf, runChecks } from '../../server/src/core/checks/run-checks.ts';
import { planEdits } from '../../server/src/core/edits/plan-edits.ts';
import { isRefusal, replaceIn, type TextEdit } from '../../server/src/core/edits/text-edit.ts';
import type { CheckedText } from '../../server/src/core/features/checked-text.ts';
import { fixAll } from '../../server/src/core/features/fix-all.ts';
import { weighFix } from '../../server/src/core/features/weigh-fix.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import type { Tape } from '../../server/src/core/syntax/tape.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { contentIdOf } from '../../server/src/host/content-id.ts';
import { drained } from './drained.ts';
import { snapshotOf } from './snapshot-of.ts';

/** Texts by path, a config among them or not. */
export type TextFiles = Readonly<Record<string, string>>;

/** Texts, the snapshot of them, and what all checks came to. */
export interface CheckedFiles {
  readonly texts: TextFiles;
  readonly run: CheckedBase;
}

const today = parseDate('2026-11-25') ?? 0;

/** The files after all checks, read from nothing. */
export function checkFresh(texts: TextFiles): CheckedFiles {
  return { texts, run: runOver(snapshotOf(texts)) };
}

/** All checks over a snapshot, on top of an earlier run where one is given. */
export function runOver(snapshot: Snapshot, before?: CheckedBase): CheckedBase {
  return drained(runChecks(snapshot, { today, before }));
}

/** All findings, sorted and with places. */
export function foundIn({ texts, run }: CheckedFiles): readonly ResolvedFinding[] {
  return resolveFindings(findingsOf(run), new Map(Object.entries(texts).map(([path, text]) => [path, tapeOf(text)])));
}

/** What a finding says, and of what, wherever in its file that stands by now. */
export function nameOfFinding({ check, severity, file, record, message }: ResolvedFinding): string {
  return [severity, file, check, record, message].join(': ');
}

/** One of the files as features see it. */
export function checkedTextOf({ texts, run }: CheckedFiles, path: string): CheckedText {
  const text = texts[path] ?? '';
  return { path, text: { tape: tapeOf(text), contentId: contentIdOf(new TextEncoder().encode(text)) }, runs: [run] };
}

/** The remedy as it would be offered. */
export function weighed(fix: Fix, files: CheckedFiles): Fix {
  return drained(weighFix(fix, checkedTextOf(files, fix.file)));
}

/** The texts after a remedy; undefined where it cannot be made. */
export function textsAfterFix({ others = [], ...own }: Fix, { texts }: CheckedFiles): TextFiles | undefined {
  let after: TextFiles | undefined = texts;
  for (const change of [own, ...others]) after = after && textsAfterChange(change, after);
  return after;
}

function textsAfterChange(
  { file, contentId, intents }: Pick<Fix, 'file' | 'contentId' | 'intents'>,
  texts: TextFiles,
): TextFiles | undefined {
  const planned = planEdits({ tape: tapeOf(texts[file] ?? ''), contentId }, intents);
  return isRefusal(planned) ? undefined : edited(texts, file, planned.edits);
}

/** The texts after all that may be mended in one file without asking. */
export function textsAfterFixAll(files: CheckedFiles, path: string): TextFiles {
  const { edits, others } = drained(fixAll(checkedTextOf(files, path), 'named-files'));
  let after: TextFiles = edited(files.texts, path, edits);
  for (const change of others) after = textsAfterChange(change, after) ?? after;
  return after;
}

/** The texts after edits of one file. */
export function edited(texts: TextFiles, path: string, edits: readonly TextEdit[]): TextFiles {
  return { ...texts, [path]: replaceIn(texts[path] ?? '', edits) };
}

const tapes = new Map<string, Tape>();

/** The tape of a text; of the texts asked for last it is kept. */
export function tapeOf(text: string): Tape {
  const known = tapes.get(text);
  if (known) return known;
  if (tapes.size > 500) tapes.clear();
  const { tape } = readText(text);
  tapes.set(text, tape);
  return tape;
}
