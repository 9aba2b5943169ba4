import type { OtherChange } from '../checks/fix.ts';
import { type CheckedBase, findingsOf, runChecks } from '../checks/run-checks.ts';
import type { EditableText } from '../edits/plan-edits.ts';
import { replaceIn, type TextEdit } from '../edits/text-edit.ts';
import { namedAttachments, namersOf, newlyWanted, wantsOf } from '../index/attachments.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { readRecordFile } from '../model/file-facts.ts';

/** A text in a base whose checks have run. */
export interface CheckedText {
  /** Path of its file, relative to the base, with `/`. */
  readonly path: string;
  readonly text: EditableText;
  /** Runs over one snapshot, which holds this text; together they ran every check there is. */
  readonly runs: readonly [CheckedBase, ...CheckedBase[]];
}

/** The text after edits that were made for it, and after changes of files its records name, in a base that is checked again. */
export function* checkEdits(
  { path, text, runs }: CheckedText,
  edits: readonly TextEdit[],
  named: readonly OtherChange[] = [],
): Generator<undefined, CheckedText> {
  const [first, ...others] = runs;
  const edited = replaceIn(text.tape.text, edits);
  const { facts, tape } = readRecordFile(new TextEncoder().encode(edited));
  // Nobody will have this content but by these edits, so the text is as good an id of it as any.
  const contentId = edited;
  const snapshot = first.snapshot
    .with([{ path, file: { path, contentId, facts } }])
    .withAttachments(named.map(({ file, becomes }) => [file, becomes]));
  const again = (before: CheckedBase) => runChecks(snapshot, { today: before.today, checks: before.checks, before });
  const checked: [CheckedBase, ...CheckedBase[]] = [yield* again(first)];
  for (const run of others) checked.push(yield* again(run));
  return { path, text: { tape, contentId }, runs: checked };
}

/**
 * Whether some findings of a base are gone after an edit, and all that are left were there before, word for word. Never where records
 * then name files they did not name before, or record another sum of a file than it then has.
 */
export function leavesFewer(before: CheckedText, after: CheckedText): boolean {
  const [was, is] = [before.runs[0].snapshot, after.runs[0].snapshot];
  // What a file says that nobody has looked at cannot be known.
  if (newlyWanted(wantsOf(was), wantsOf(is)).wanted.length > 0) return false;
  if (!haveTheirSums(is.attachments.differingKeys(was.attachments), is)) return false;
  const counts = new Map<string, number>();
  for (const name of namesOfFindings(before)) counts.set(name, (counts.get(name) ?? 0) + 1);
  const left = namesOfFindings(after);
  for (const name of left) {
    const count = counts.get(name) ?? 0;
    if (count === 0) return false;
    counts.set(name, count - 1);
  }
  return left.length < namesOfFindings(before).length;
}

/** Whether files are those that records name. A base may check no sums, and what a file with another one reports counts for nothing all the same. */
function haveTheirSums(paths: Iterable<string>, snapshot: Snapshot): boolean {
  return Array.from(paths).every((path) =>
    Array.from(namersOf(path, snapshot)).every((record) =>
      namedAttachments(record, snapshot).every(
        ({ inBase, sha256, found }) =>
          inBase !== path || !sha256 || found?.state !== 'present' || found.sha256 === sha256.sum,
      ),
    ),
  );
}

/** What each finding says, and of what: an edit elsewhere in the file changes its offsets and nothing of this. */
function namesOfFindings({ runs }: CheckedText): readonly string[] {
  return runs.flatMap(findingsOf).map(({ check, severity, place, record, message }) => {
    return JSON.stringify([check, severity, place.file, record, message]);
  });
}
