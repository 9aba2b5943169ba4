/**
 * What a change of a base comes to, from two snapshots of it and nothing else.
 * Invariant 10: a generator that yields as its parts do; the command line drains it, the server slices it.
 * Laws (test/property/review-change.property.test.ts):
 * - a base compared with itself has no change
 * - exchanging before and after exchanges what was added and removed, and what is new and gone
 * - the order and the places of files change nothing
 * - comments, the order of keys and line ends are no change
 * - the findings of the base with the change are those that are new and those that are still there
 * - two unrelated snapshots give what two of one family give
 */
import type { Finding } from '../checks/finding.ts';
import { type CheckedBase, findingsOf, judgedAnew, runChecks } from '../checks/run-checks.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { Day } from '../terms/calendar.ts';
import { donorFlips } from './donor-flips.ts';
import { findingChanges } from './finding-changes.ts';
import { mergeFindings } from './merge-findings.ts';
import { oddsChanges } from './odds-changes.ts';
import { questionsOf } from './questions.ts';
import { recordChanges } from './record-changes.ts';
import type { Change, Review } from './review.ts';
import { ruleChanges, ruleFlips } from './rule-changes.ts';
import { haveOtherSeverities, hiddenFindings, settingChanges } from './setting-changes.ts';
import { verdictChanges } from './verdict-changes.ts';

/** What is given and what comes of it. */
export type { Change, Review };

/** What a change comes to. `today` is the day that the checks take for today. */
export function* reviewChange(change: Change, today: Day): Generator<undefined, Review> {
  const { before, after, merge } = change;
  const checked = yield* runChecks(before, { today });
  const runs = yield* runsOver(change, checked);
  const now = findingsOf(runs.after);
  const hidden = runs.asBefore === runs.after ? [] : hiddenFindings(findingsOf(runs.asBefore), now);
  yield;
  // Severities decide nothing but findings, and what follows from the base is at hand for the run that could build on the one before.
  const { snapshot } = runs.asBefore;
  const found = {
    change: { before, after: snapshot, merge },
    records: recordChanges(before, snapshot),
    verdicts: verdictChanges(before, snapshot),
    findings: findingChanges(findingsOf(checked), now),
    rules: ruleChanges(before, snapshot),
    odds: oddsChanges(before, snapshot),
    standings: { ...(yield* donorFlips(before, snapshot)), rules: ruleFlips(before, snapshot) },
    config: settingChanges(before, after, hidden),
  };
  const onMerge = yield* findingsOnMerge(change, { checked, now });
  return { ...found, change, questions: questionsOf(found, hidden), onMerge };
}

/** The runs over the base with the change: as it is, and as severely as before. */
function* runsOver(
  { before, after }: Change,
  checked: CheckedBase,
): Generator<undefined, { readonly after: CheckedBase; readonly asBefore: CheckedBase }> {
  const options = { today: checked.today, before: checked };
  const snapshot = haveOtherSeverities(before, after) ? underOldSeverities(before, after) : after;
  const asBefore = yield* runChecks(snapshot, options);
  if (snapshot === after) return { after: asBefore, asBefore };
  return { after: judgedAnew(asBefore, after) ?? (yield* runChecks(after, options)), asBefore };
}

/** The base with the change, judged as severely as before. */
function underOldSeverities(before: Snapshot, after: Snapshot): Snapshot {
  const { configFile } = after;
  const config = { ...configFile.reading.config, severity: before.config.severity };
  return after.withConfig({ ...configFile, reading: { ...configFile.reading, config } });
}

interface Runs {
  readonly checked: CheckedBase;
  readonly now: readonly Finding[];
}

function* findingsOnMerge(
  { before, after, merge }: Change,
  { checked, now }: Runs,
): Generator<undefined, Review['onMerge']> {
  if (!merge) return undefined;
  const { today } = checked;
  const theirs = yield* runChecks(merge.theirs, { today, before: checked });
  const merged = yield* runChecks(merge.merged, { today, before: theirs });
  const runs = { after: now, theirs: findingsOf(theirs), merged: findingsOf(merged) };
  return mergeFindings({ before, after, ...merge }, runs);
}
