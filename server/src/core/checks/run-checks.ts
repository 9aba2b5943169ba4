/**
 * Runs the checks over a snapshot.
 * Invariant 10: a generator that yields every few records, so that an adapter can slice the work or stop it.
 * Invariant 14: a crash in one check becomes a finding; the rest still run.
 * Laws (test/property/run-checks.property.test.ts):
 * - shuffled files give the same findings
 * - a check switched off changes no other finding
 * - a drive that nothing refers to changes no finding
 * - a run ends, however much one check finds
 * - a run that builds on an earlier one finds what a fresh one finds
 * - an edit of a note or a comment has no record checked again
 * - a run judged anew under other severities finds what a fresh one finds
 *
 * Laws (test/property/sequences.property.test.ts):
 * - after typing, undoing, mending, acting, renaming and formatting in any order a run finds what a fresh one finds
 */

import { namersOf } from '../index/attachments.ts';
import { changesBetween } from '../index/changes.ts';
import { affectedBy } from '../index/referrers.ts';
import type { BaseFile, Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, nameOf } from '../model/record.ts';
import type { Day } from '../terms/calendar.ts';
import { type Kind, kinds } from '../terms/kinds.ts';
import type { Severity } from '../terms/severities.ts';
import { withShortQuotes } from '../text/with-short-quotes.ts';
import { configPath } from './config-invalid.ts';
import type { Check, Draft, Spot } from './define-check.ts';
import type { Finding, Place } from './finding.ts';
import type { Fix } from './fix.ts';
import { describeCrash, internalCheckFailed } from './internal-check-failed.ts';
import { checks as allChecks } from './registry.ts';

/** Records between two yields. */
const recordsPerSlice = 100;

/** What a check has raised. */
interface Raised {
  readonly check: Check;
  readonly draft: Draft;
}

type ByRecord = ReadonlyMap<AnyRecord, readonly Raised[]>;

/** How checks are run. */
export interface RunOptions {
  /** The day that counts as today. */
  readonly today: Day;
  /** The checks to run; absent: all. */
  readonly checks?: readonly Check[] | undefined;
  /** An earlier run, over a snapshot that this one came from or any other: what nothing has changed for is taken from it. */
  readonly before?: CheckedBase | undefined;
}

/** A base after its checks. */
export interface CheckedBase {
  readonly snapshot: Snapshot;
  readonly today: Day;
  readonly checks: readonly Check[];
  /** What the checks of single records raised; records without a finding are absent. */
  readonly byRecord: ByRecord;
  /** What all other checks raised. */
  readonly others: readonly Raised[];
  /** Records that were checked in this run and not taken from an earlier one. */
  readonly recordsChecked: number;
}

/** Checks a base. */
export function* runChecks(
  snapshot: Snapshot,
  { today, checks = allChecks, before }: RunOptions,
): Generator<undefined, CheckedBase> {
  const active = checks.filter((check) => severityFor(check, snapshot) !== 'off');
  const kept = before && isOfUse(before, { snapshot, today, checks }) ? before : undefined;
  const records = yield* checkRecords({ snapshot, today, active, kept });
  const others: Raised[] = [];
  for (const check of active) {
    for (const run of otherRuns(check, snapshot)) {
      // One by one: a megabyte of repeated keys makes more findings than a call may have arguments.
      for (const raised of yield* raiseInSlices(check, snapshot, run)) others.push(raised);
    }
    yield;
  }
  return { snapshot, today, checks, ...records, others };
}

/**
 * The run over the same base under other severities and otherwise the same settings; undefined where a check is due that was switched
 * off.
 */
export function judgedAnew(checked: CheckedBase, snapshot: Snapshot): CheckedBase | undefined {
  const isOff = (check: Check, under: Snapshot): boolean => severityFor(check, under) === 'off';
  const isDue = checked.checks.some((check) => isOff(check, checked.snapshot) && !isOff(check, snapshot));
  if (isDue) return undefined;
  const left = (raised: readonly Raised[]): readonly Raised[] => raised.filter(({ check }) => !isOff(check, snapshot));
  const byRecord = new Map<AnyRecord, readonly Raised[]>();
  for (const [record, raised] of checked.byRecord) {
    const kept = left(raised);
    if (kept.length > 0) byRecord.set(record, kept);
  }
  return { ...checked, snapshot, byRecord, others: left(checked.others), recordsChecked: 0 };
}

/**
 * The findings of a checked base, in no particular order: sorting needs offsets, see `resolve-findings.ts`. Findings of an earlier
 * run that still stand are the same objects.
 */
export function findingsOf({ snapshot, byRecord, others }: CheckedBase): Finding[] {
  const findings: Finding[] = [];
  for (const raised of byRecord.values()) for (const one of raised) findings.push(toFinding(one, snapshot));
  for (const one of others) findings.push(toFinding(one, snapshot));
  return findings;
}

function isOfUse(before: CheckedBase, now: Pick<CheckedBase, 'snapshot' | 'today' | 'checks'>): boolean {
  const isSameRun = before.today === now.today && before.checks === now.checks;
  return isSameRun && !changesBetween(before.snapshot, now.snapshot).isSweeping;
}

interface RecordRun {
  readonly snapshot: Snapshot;
  readonly today: Day;
  readonly active: readonly Check[];
  readonly kept: CheckedBase | undefined;
}

/** Runs the checks of single records over those for which nothing is known yet. */
function* checkRecords(run: RecordRun): Generator<undefined, Pick<CheckedBase, 'byRecord' | 'recordsChecked'>> {
  const { snapshot, active, kept } = run;
  const byKind = checksByKind(active);
  const byRecord = new Map(kept?.byRecord);
  let recordsChecked = 0;
  for (const record of kept ? outdated(kept, snapshot) : snapshot.allRecords()) {
    byRecord.delete(record);
    if (snapshot.find(record.kind, record.id) !== record) continue;
    const raised: Raised[] = [];
    for (const check of byKind[record.kind]) raiseAbout(record, check, run, raised);
    if (raised.length > 0) byRecord.set(record, raised);
    if (++recordsChecked % recordsPerSlice === 0) yield;
  }
  return { byRecord, recordsChecked };
}

/** The records whose findings may differ from those of an earlier run, those that are gone among them. */
function outdated({ snapshot: before, byRecord }: CheckedBase, snapshot: Snapshot): ReadonlySet<AnyRecord> {
  const changes = changesBetween(before, snapshot);
  const records = new Set(affectedBy(changes));
  for (const { before: gone } of changes.records) if (gone) records.add(gone);
  // What a file says tells on the records that name it, and on no record that leads to these.
  for (const path of changes.attachments) for (const record of namersOf(path, snapshot)) records.add(record);
  const isIdNews = changes.bareIds.size > 0 || changes.records.some((change) => !change.before || !change.after);
  for (const [record, raised] of byRecord) {
    // Which id is nearest to one that is missing depends on all of them. A check that failed may work the next time (invariant 12).
    const isShaky = raised.some(
      ({ check }) => check === internalCheckFailed || (isIdNews && check.scope === 'record' && check.restsOnAbsence),
    );
    if (isShaky) records.add(record);
  }
  return records;
}

type RecordCheck = Extract<Check, { scope: 'record' }>;

function checksByKind(checks: readonly Check[]): Readonly<Record<Kind, readonly RecordCheck[]>> {
  const ofKind = (kind: Kind): RecordCheck[] =>
    checks.flatMap((check) => (check.scope === 'record' && (check.kinds?.includes(kind) ?? true) ? check : []));
  return Object.fromEntries(kinds.map((kind) => [kind, ofKind(kind)])) as unknown as Record<
    Kind,
    readonly RecordCheck[]
  >;
}

/** One run of a check that is not about single records. */
interface OtherRun {
  /** The file a crash is reported at. */
  readonly file: string;
  readonly run: () => Iterable<Draft | undefined>;
}

function* otherRuns(check: Check, snapshot: Snapshot): Generator<OtherRun> {
  switch (check.scope) {
    case 'config':
      yield { file: configPath, run: () => check.run(snapshot.configFile) };
      return;
    case 'file':
      for (const file of snapshot.troubledFiles.values()) {
        if (file.facts.faults.length > 0) yield { file: file.path, run: () => check.run(file) };
      }
      return;
    case 'base':
      yield { file: configPath, run: () => check.run(snapshot) };
      return;
    case 'record':
    case 'run':
      return;
  }
}

/** Runs a check that may be interrupted. A crash counts as the one thing it raised. */
function* raiseInSlices(
  check: Check,
  snapshot: Snapshot,
  { file, run }: OtherRun,
): Generator<undefined, readonly Raised[]> {
  const raised: Raised[] = [];
  try {
    for (const draft of run()) {
      if (draft) raised.push({ check, draft: standingIn(snapshot, draft) });
      else yield;
    }
    return raised;
  } catch (error) {
    return [crashed(check, file, error)];
  }
}

/** Adds what a check raises about one record; of a check that crashes only the crash. */
function raiseAbout(record: AnyRecord, check: RecordCheck, { snapshot, today }: RecordRun, raised: Raised[]): void {
  const before = raised.length;
  try {
    for (const draft of check.run(record, snapshot, today)) raised.push({ check, draft: standingIn(snapshot, draft) });
  } catch (error) {
    raised.length = before;
    raised.push(crashed(check, snapshot.locate(record).file.path, error));
  }
}

/** The draft, if all it points at stands in this base; a check that points elsewhere is at fault, and this throws. */
function standingIn(snapshot: Snapshot, draft: Draft): Draft {
  for (const { at } of [draft, ...(draft.related ?? [])]) if ('record' in at) snapshot.locate(at.record);
  return draft;
}

function crashed(check: Check, file: string, error: unknown): Raised {
  return { check: internalCheckFailed, draft: describeCrash(check.check, file, error) };
}

/** The severity a base gives a check; undefined where it leaves the check its own. Faults of files and our own cannot be hushed. */
function severityFor(check: Check, snapshot: Snapshot): Severity | 'off' | undefined {
  const isFixed = check.group === 'file' || check.group === 'internal';
  return isFixed ? undefined : snapshot.config.severity[check.check];
}

/** What was raised as it was found the last time, and under which settings. Most of a base stays as it is from edit to edit. */
const lastFindings = new WeakMap<Raised, { readonly finding: Finding; readonly configFile: Snapshot['configFile'] }>();

function toFinding(raised: Raised, snapshot: Snapshot): Finding {
  const { configFile } = snapshot;
  const last = lastFindings.get(raised);
  if (last?.configFile === configFile && isInPlace(last.finding, snapshot)) return last.finding;
  const finding = newFinding(raised, snapshot);
  lastFindings.set(raised, { finding, configFile });
  return finding;
}

/** Whether every file a finding points at still holds what it held. */
function isInPlace({ place, related }: Finding, snapshot: Snapshot): boolean {
  const isSame = ({ file, contentId }: Place): boolean => contentIdOf(file, snapshot) === contentId;
  return isSame(place) && related.every((other) => isSame(other.place));
}

function newFinding({ check, draft }: Raised, snapshot: Snapshot): Finding {
  return {
    check: check.check,
    severity: severityOf(check, draft, snapshot),
    place: toPlace(draft.at, snapshot),
    message: withShortQuotes(draft.message),
    help: draft.help === undefined ? undefined : withShortQuotes(draft.help),
    record: recordOf(draft.at, snapshot),
    related: (draft.related ?? []).map(({ at, message }) => ({
      place: toPlace(at, snapshot),
      message: withShortQuotes(message),
    })),
    fixes: toFixes(draft, snapshot),
  };
}

function toFixes({ at, fixes = [] }: Draft, snapshot: Snapshot): readonly Fix[] {
  if (fixes.length === 0) return [];
  const { file, contentId, target } = toPlace(at, snapshot);
  if (!('document' in target)) return [];
  const { document } = target;
  return fixes.map(({ title, kind, changes, others = [] }) => {
    const intents = changes.map((change) => ({ ...change, document }));
    const fix = { title: withShortQuotes(title), kind, file, contentId, intents };
    return others.length > 0 ? { ...fix, others } : fix;
  });
}

function severityOf(check: Check, draft: Draft, snapshot: Snapshot): Severity {
  const set = severityFor(check, snapshot);
  return set === undefined || set === 'off' ? (draft.severity ?? check.severity) : set;
}

function toPlace(spot: Spot, snapshot: Snapshot): Place {
  if ('record' in spot) {
    const { file, document } = snapshot.locate(spot.record);
    return { file: file.path, contentId: file.contentId, target: { document, path: spot.path, side: spot.side } };
  }
  const { file, ...target } = spot;
  return { file, contentId: contentIdOf(file, snapshot), target };
}

function contentIdOf(path: string, snapshot: Snapshot): string {
  if (path === configPath) return snapshot.configFile.contentId;
  const file = snapshot.files.get(path) ?? snapshot.attachment(path);
  return file && 'contentId' in file ? file.contentId : '';
}

function recordOf(spot: Spot, snapshot: Snapshot): string | undefined {
  if ('record' in spot) return nameOf(spot.record);
  if (!('document' in spot)) return undefined;
  const file: BaseFile | undefined = snapshot.files.get(spot.file);
  const placed = file?.facts.records.find((candidate) => candidate.document === spot.document);
  return placed && nameOf(placed.record);
}
