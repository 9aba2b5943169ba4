import type { Fix, FixKind } from '../core/checks/fix.ts';
import type { ResolvedFinding } from '../core/checks/resolve-findings.ts';
import type { CheckedBase } from '../core/checks/run-checks.ts';
import { planEdits } from '../core/edits/plan-edits.ts';
import { isRefusal } from '../core/edits/text-edit.ts';
import { weighFix } from '../core/features/weigh-fix.ts';
import type { Tape } from '../core/syntax/tape.ts';
import { drained } from '../core/terms/drained.ts';
import { LineIndex, type Range } from '../core/text/line-index.ts';
import { readTapes } from './open-base.ts';

/** A remedy as edits of files of a base. */
interface PlannedFix {
  readonly title: string;
  readonly kind: FixKind;
  readonly files: readonly PlannedFile[];
}

/** Edits of one file. */
interface PlannedFile {
  /** Path relative to the base, with `/`. */
  readonly file: string;
  readonly edits: readonly { readonly range: Range; readonly newText: string }[];
}

/** The remedies of findings that can be carried out; findings that have none are absent. */
export type PlannedFixes = ReadonlyMap<ResolvedFinding, readonly PlannedFix[]>;

/** Remedies planned in one file: each takes as long as reading it, and who has hundreds needs something else than remedies. */
const mostInFile = 100;

/** Fixes weighed in one run: each takes a run of the checks. Any more have to be asked for. */
const mostWeighed = 200;

/**
 * Plans the remedies of findings in the files of a base, which are read again; in one file no more than a hundred. `check` runs every
 * check over the base, and is called where there is a fix to weigh.
 */
export async function planFixes(
  root: string,
  findings: readonly ResolvedFinding[],
  check: () => Promise<CheckedBase>,
): Promise<PlannedFixes> {
  const fixes = findings.flatMap((finding) => finding.fixes);
  const changed = fixes.flatMap((fix) => [fix, ...(fix.others ?? [])]);
  const tapes = await readTapes(root, new Map(changed.map(({ file, contentId }) => [file, contentId])));
  const checked = fixes.some(({ kind }) => kind === 'fix') ? await check() : undefined;
  const counts = new Map<string, number>();
  let weighed = 0;
  const planFix = (fix: Fix): PlannedFix[] => {
    const { file, contentId, title } = fix;
    const count = (counts.get(file) ?? 0) + 1;
    counts.set(file, count);
    const tape = tapes.get(file);
    if (count > mostInFile || !tape) return [];
    const text = { tape, contentId };
    const files = [fix, ...(fix.others ?? [])].map((change) => planFile(change, tapes));
    if (!files.every((planned) => planned !== undefined)) return [];
    const isWeighed = checked && fix.kind === 'fix' && weighed++ < mostWeighed;
    const kind = isWeighed ? drained(weighFix(fix, { path: file, text, runs: [checked] })).kind : 'ask';
    return [{ title, kind, files: files.filter(({ edits }) => edits.length > 0) }];
  };
  const planned = findings.map((finding) => [finding, finding.fixes.flatMap(planFix)] as const);
  return new Map(planned.filter(([, ofFinding]) => ofFinding.length > 0));
}

/** The edits of one file; undefined where they cannot be made. */
function planFile(
  { file, contentId, intents }: Pick<Fix, 'file' | 'contentId' | 'intents'>,
  tapes: ReadonlyMap<string, Tape>,
): PlannedFile | undefined {
  const tape = tapes.get(file);
  const planned = tape && planEdits({ tape, contentId }, intents);
  if (!tape || !planned || isRefusal(planned)) return undefined;
  const lines = new LineIndex(tape.text);
  const edits = planned.edits.map(({ start, end, text }) => ({ range: lines.rangeOf(start, end), newText: text }));
  return { file, edits };
}
