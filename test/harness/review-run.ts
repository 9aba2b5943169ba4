import { gitOfTests } from './git-repository.ts';
import { type Run, runInside } from './run-cli.ts';

/** Runs `swaplore review` in this process, with git at hand, on a fixed day. */
export function review(folder: string, ...args: string[]): Promise<Run> {
  return runInside(folder, ['review', '--today', '2026-04-01', ...args], {}, { version: '0.0.0', findGit: gitOfTests });
}

/** A finding in the JSON of a review. */
interface JsonFinding {
  readonly check: string;
  readonly severity: string;
  readonly record?: string;
}

/** The JSON of a review, as far as `newsIn` tells it. */
interface JsonReview {
  readonly remarks: readonly string[];
  readonly records: {
    readonly added: readonly { readonly record: string }[];
    readonly changed: readonly {
      readonly record: string;
      readonly changes: readonly { readonly path: string; readonly before: unknown; readonly after: unknown }[];
    }[];
    readonly removed: readonly {
      readonly record: string;
      readonly how: 'gone' | 'unread' | { readonly renamed: string };
    }[];
    readonly retracted: readonly { readonly record: string }[];
    readonly restored: readonly { readonly record: string }[];
  };
  readonly verdicts: readonly { readonly outcome: string; readonly before: Verdicts; readonly after: Verdicts }[];
  readonly findings: {
    readonly new: readonly JsonFinding[];
    readonly gone: readonly JsonFinding[];
    readonly still: number;
  };
  readonly rules: readonly { readonly id: string; readonly before: Counts; readonly after: Counts }[];
  readonly config: readonly {
    readonly path: string;
    readonly before: unknown;
    readonly after: unknown;
    readonly hides: readonly JsonFinding[];
  }[];
  readonly questions: readonly { readonly record: string | null }[];
  readonly onMerge:
    | readonly (JsonFinding & { readonly brought: readonly { readonly record: string; readonly by: string }[] })[]
    | null;
}

type Verdicts = { readonly reads: string } | null;
type Counts = { readonly support: number; readonly against: number } | null;

/** What a review in JSON has to say, one line each: what is new, and the exit code if it is not 0. */
export function newsIn({ stdout, stderr, code }: Run): readonly string[] {
  if (stderr !== '') return [stderr];
  const found = JSON.parse(stdout) as JsonReview;
  const { records, findings } = found;
  const was = (before: unknown, after: unknown): string => `${JSON.stringify(before)} → ${JSON.stringify(after)}`;
  return [
    ...found.remarks.map((text) => `remark: ${text}`),
    ...records.added.map(({ record }) => `added ${record}`),
    ...records.changed.flatMap(({ record, changes }) =>
      changes.map(({ path, before, after }) => `${record}${path}: ${was(before, after)}`),
    ),
    ...records.removed.map(({ record, how }) =>
      typeof how === 'object' ? `${record} is ${how.renamed} now` : `removed ${record} (${how})`,
    ),
    ...records.retracted.map(({ record }) => `retracted ${record}`),
    ...records.restored.map(({ record }) => `restored ${record}`),
    ...found.verdicts.map(({ outcome, before, after }) => `verdict ${outcome}: ${was(before?.reads, after?.reads)}`),
    ...found.config.map(
      ({ path, before, after, hides }) => `setting ${path}: ${was(before, after)}, hides ${hides.length}`,
    ),
    ...findings.new.map((finding) => `new ${inWords(finding)}`),
    ...findings.gone.map((finding) => `gone ${inWords(finding)}`),
    ...found.rules.map(({ id, before, after }) => `rule ${id}: ${countsIn(before)} → ${countsIn(after)}`),
    ...found.questions.map(({ record }) => `asks about ${record ?? 'settings'}`),
    ...(found.onMerge ?? []).map(
      (one) => `merged: ${inWords(one)}; ${one.brought.map(({ record, by }) => `${record} by ${by}`).join(', ')}`,
    ),
    ...(code === 0 ? [] : [`exit ${code}`]),
  ];
}

function inWords({ severity, check, record }: JsonFinding): string {
  return `${severity} ${check} ${record ?? ''}`.trimEnd();
}

function countsIn(counts: Counts): string {
  return counts ? `${counts.support}:${counts.against}` : 'none';
}
