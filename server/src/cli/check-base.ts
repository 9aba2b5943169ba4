import type { Check } from '../core/checks/define-check.ts';
import type { Finding } from '../core/checks/finding.ts';
import { keepRecords, restoreRecords } from '../core/checks/kept-records.ts';
import { type CheckedBase, findingsOf, runChecks } from '../core/checks/run-checks.ts';
import type { Snapshot } from '../core/index/snapshot.ts';
import { type Day, formatDate } from '../core/terms/calendar.ts';
import { drained } from '../core/terms/drained.ts';
import type { DiskBase } from '../host/disk/disk-base.ts';
import type { Phase } from './lint-stats.ts';
import type { Surveyed } from './open-base.ts';
import { inFilesNow } from './place-again.ts';

/** How a base is checked. */
export interface Checking {
  readonly today: Day;
  readonly checks: readonly Check[];
}

/** Runs a part of the work and takes its time. */
type Timed = <Result>(phase: Phase, work: () => Promise<Result> | Result) => Promise<Result>;

/** All that a run over the base follows from besides the program; undefined where that cannot be told. */
export function inputsOf({ inputs }: DiskBase, checking: Checking): readonly string[] | undefined {
  return inputs && [...optionsOf(checking), ...inputs];
}

function optionsOf({ today, checks }: Checking): readonly string[] {
  return [formatDate(today), ...checks.map(({ check }) => check)];
}

/** Checks a base, building on the last state of it that was checked. */
export async function checkBase(
  { base, cache }: Surveyed,
  checking: Checking,
  timed: Timed = async (_, work) => work(),
): Promise<CheckedBase> {
  const options = optionsOf(checking);
  const kept = cache?.readChecked(options);
  const { now, before, state } = await timed('load', () => base.snapshotsSince(kept?.state));
  const checked = await timed('check', () => {
    const earlier = kept && before && restoreRecords(kept.records, before, checking);
    return drained(runChecks(now, { ...checking, before: earlier }));
  });
  const records = keepRecords(checked);
  if (records) cache?.writeChecked({ options, state, records });
  return checked;
}

/** A base with what is found in it, as it was remembered where that is known of all that it holds. */
export async function foundIn(
  surveyed: Surveyed,
  checking: Checking,
): Promise<{ readonly snapshot: Snapshot; readonly findings: readonly Finding[] }> {
  const { base } = surveyed;
  const inputs = inputsOf(base, checking);
  const cache = inputs && surveyed.cache;
  const found = cache?.readFound(inputs) ?? [];
  if (found.length > 0) {
    return { snapshot: await base.snapshot(), findings: found.map(([, finding]) => inFilesNow(finding, base)) };
  }
  const checked = await checkBase({ ...surveyed, cache }, checking);
  return { snapshot: checked.snapshot, findings: findingsOf(checked) };
}
