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
import { type Derivation, deriving, derivingAll } from '../index/derivation.ts';
import { affectedBy, referrers } from '../index/referrers.ts';
import { SharedMap } from '../index/shared-map.ts';
import type { BaseFile, Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, nameOf } from '../model/record.ts';
import type { Day } from '../terms/calendar.ts';
import { type Kind, kinds } from '../terms/kinds.ts';
import { rememberedWithin } from '../terms/remembered.ts';
import { configPath } from './config-invalid.ts';
import type { Check, Draft } from './define-check.ts';
import type { Finding } from './finding.ts';
import { internalCheckFailed } from './internal-check-failed.ts';
import { type Gathered, gather, type Raised, raise, raiseCrash, severityFor, touchedFiles } from './raised.ts';
import { checks as allChecks } from './registry.ts';

/** Records between two yields. */
const recordsPerSlice = 10;

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
export interface CheckedBase extends Gathered {
  readonly snapshot: Snapshot;
  readonly today: Day;
  readonly checks: readonly Check[];
  /** What the checks of single records raised, by `kind/id`; records without a finding are absent. */
  readonly byRecord: SharedMap<readonly Raised[]>;
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
  const run: Run = { snapshot, today, active, kept, stale: staleIn(kept, snapshot), gone: [], come: [] };
  const records = yield* checkRecords(run);
  const others = yield* checkOthers(run);
  return { snapshot, today, checks, ...records, others, ...gather(run, kept) };
}

/**
 * The run over the same base under other severities and otherwise the same settings; undefined where a check is due that was switched
 * off.
 */
export function judgedAnew(checked: CheckedBase, snapshot: Snapshot): CheckedBase | undefined {
  const isOff = (check: Check, under: Snapshot): boolean => severityFor(check, under) === 'off';
  const isDue = checked.checks.some((check) => isOff(check, checked.snapshot) && !isOff(check, snapshot));
  if (isDue) return undefined;
  const judged = (raised: readonly Raised[]): readonly Raised[] =>
    raised.flatMap((one) => (isOff(one.check, snapshot) ? [] : raise(one, snapshot)));
  const byRecord = new Map<string, readonly Raised[]>();
  for (const raised of checked.byRecord.values()) {
    const left = judged(raised);
    if (left[0]?.about) byRecord.set(nameOf(left[0].about), left);
  }
  const others = judged(checked.others);
  const come = [...byRecord.values(), others].flat();
  const all = gather({ gone: [], come });
  return { ...checked, snapshot, byRecord: SharedMap.of(byRecord), others, ...all, recordsChecked: 0 };
}

/** The findings of a checked base, in no particular order: sorting needs offsets, see `resolve-findings.ts`. */
export function findingsOf({ findings }: CheckedBase): Finding[] {
  return [...findings.values()].flat();
}

function isOfUse(before: CheckedBase, now: Pick<CheckedBase, 'snapshot' | 'today' | 'checks'>): boolean {
  const isSameRun = before.today === now.today && before.checks === now.checks;
  return isSameRun && !changesBetween(before.snapshot, now.snapshot).isSweeping;
}

/** What an earlier run raised that points into files which are not what they were. */
function staleIn(kept: CheckedBase | undefined, snapshot: Snapshot): ReadonlySet<Raised> {
  if (!kept) return new Set();
  return new Set([...touchedFiles(kept.snapshot, snapshot)].flatMap((file) => kept.pointers.get(file) ?? []));
}

/** A run under way. */
interface Run {
  readonly snapshot: Snapshot;
  readonly today: Day;
  readonly active: readonly Check[];
  /** The earlier run that this one builds on. */
  readonly kept: CheckedBase | undefined;
  /** What it raised and has to be placed anew. */
  readonly stale: ReadonlySet<Raised>;
  /** What it raised and stands no longer, and what came. */
  readonly gone: Raised[];
  readonly come: Raised[];
}

/** Runs the checks of single records over those for which nothing is known yet. */
function* checkRecords(run: Run): Generator<undefined, Pick<CheckedBase, 'byRecord' | 'recordsChecked'>> {
  const { snapshot, active, kept, gone, come } = run;
  const byKind = checksByKind(active);
  if (kept) yield* deriving(referrers, snapshot);
  const due = kept && outdated(kept, snapshot);
  yield* deriveFor(active, snapshot);
  const changed = new Map<string, readonly Raised[] | undefined>();
  for (const record of due ?? []) {
    const name = nameOf(record);
    if (!changed.has(name)) for (const one of kept?.byRecord.get(name) ?? []) gone.push(one);
    changed.set(name, undefined);
  }
  let recordsChecked = 0;
  for (const record of due ?? snapshot.allRecords()) {
    if (snapshot.find(record.kind, record.id) !== record) continue;
    const raised: Raised[] = [];
    for (const check of byKind[record.kind]) raiseAbout(record, check, run, raised);
    if (raised.length > 0) changed.set(nameOf(record), raised);
    for (const one of raised) come.push(one);
    if (++recordsChecked % recordsPerSlice === 0) yield;
  }
  for (const { about } of run.stale) {
    const name = about && nameOf(about);
    if (name !== undefined && !changed.has(name)) changed.set(name, placedAnew(kept?.byRecord.get(name) ?? [], run));
  }
  return { byRecord: (kept?.byRecord ?? SharedMap.of<readonly Raised[]>()).with(changed), recordsChecked };
}

function placedAnew(raised: readonly Raised[], { snapshot, stale, gone, come }: Run): readonly Raised[] {
  return raised.map((one) => {
    if (!stale.has(one)) return one;
    const again = raise(one, snapshot);
    gone.push(one);
    come.push(again);
    return again;
  });
}

/** The records whose findings may differ from those of an earlier run, those that are gone among them. */
function outdated({ snapshot: before, byRecord, crashes }: CheckedBase, snapshot: Snapshot): ReadonlySet<AnyRecord> {
  const changes = changesBetween(before, snapshot);
  const records = new Set(affectedBy(changes));
  for (const { before: gone } of changes.records) if (gone) records.add(gone);
  // What a file says tells on the records that name it, and on no record that leads to these.
  for (const path of changes.attachments) for (const record of namersOf(path, snapshot)) records.add(record);
  const isIdNews = changes.bareIds.size > 0 || changes.records.some((change) => !change.before || !change.after);
  if (!isIdNews && crashes === 0) return records;
  for (const raised of byRecord.values()) {
    for (const { check, about } of raised) {
      // Which id is nearest to one that is missing depends on all of them. A check that failed may work the next time (invariant 12).
      const isShaky = check === internalCheckFailed || (isIdNews && check.scope === 'record' && check.restsOnAbsence);
      if (isShaky && about) records.add(about);
    }
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

/** What checks of single records rest on. What cannot be derived fails again, and is reported, when one of them asks for it. */
function* deriveFor(checks: readonly Check[], snapshot: Snapshot): Generator<undefined, void> {
  const needed = checks.flatMap((check) => (check.scope === 'record' && check.restsOn) || []);
  try {
    yield* derivingAll(new Set(needed), snapshot);
  } catch {
    // Whatever else they rest on is derived in one go then.
  }
}

/** Runs all other checks. */
function* checkOthers(run: Run): Generator<undefined, readonly Raised[]> {
  const { snapshot, active, kept, gone } = run;
  const left = new Map<Draft, Raised>();
  for (const one of kept?.others ?? []) {
    const twin = left.get(one.draft);
    if (twin) gone.push(twin);
    left.set(one.draft, one);
  }
  const others: Raised[] = [];
  for (const check of active) {
    for (const other of otherRuns(check, snapshot)) {
      // One by one: a megabyte of repeated keys makes more findings than a call may have arguments.
      for (const raised of yield* raiseInSlices(check, other, { ...run, left })) others.push(raised);
    }
    yield;
  }
  for (const one of left.values()) gone.push(one);
  return others;
}

/** One run of a check that is not about single records. */
interface OtherRun {
  /** The file a crash is reported at. */
  readonly file: string;
  /** What is derived before. */
  readonly restsOn?: readonly Derivation<unknown>[] | undefined;
  readonly run: () => Iterable<Draft | undefined>;
}

function* otherRuns(check: Check, snapshot: Snapshot): Generator<OtherRun> {
  switch (check.scope) {
    case 'config':
      yield { file: configPath, run: () => check.run(snapshot.configFile) };
      return;
    case 'file':
      for (const file of snapshot.troubledFiles.values()) {
        if (file.facts.faults.length > 0) yield { file: file.path, run: () => draftsAbout(check, file) };
      }
      return;
    case 'base':
      yield { file: configPath, restsOn: check.restsOn, run: () => check.run(snapshot) };
      return;
    case 'record':
    case 'run':
      return;
  }
}

/** What a check says of a file, which is the same for as long as the file is. */
const draftsAbout = rememberedWithin((check: Extract<Check, { scope: 'file' }>, file: BaseFile) => [
  ...check.run(file),
]);

/** Runs a check that may be interrupted. A crash counts as the one thing it raised. What is `left` of an earlier run and stands is kept. */
function* raiseInSlices(
  check: Check,
  { file, run, restsOn = [] }: OtherRun,
  { snapshot, stale, gone, come, left }: Run & { readonly left: Map<Draft, Raised> },
): Generator<undefined, readonly Raised[]> {
  const raised: Raised[] = [];
  const kept: Raised[] = [];
  const before = come.length;
  try {
    yield* derivingAll(restsOn, snapshot);
    for (const draft of run()) {
      const known = draft && left.get(draft);
      if (!draft) yield;
      else if (known?.check === check && !stale.has(known)) {
        // Whoever raises one draft twice has found two things.
        left.delete(draft);
        kept.push(known);
        raised.push(known);
      } else {
        const one = raise({ check, draft, about: undefined }, snapshot);
        come.push(one);
        raised.push(one);
      }
    }
    return raised;
  } catch (error) {
    for (const one of kept) gone.push(one);
    const crash = raiseCrash({ check, about: undefined }, { file, error }, snapshot);
    come.length = before;
    come.push(crash);
    return [crash];
  }
}

/** Adds what a check raises about one record; of a check that crashes only the crash. */
function raiseAbout(about: AnyRecord, check: RecordCheck, { snapshot, today }: Run, raised: Raised[]): void {
  const before = raised.length;
  try {
    for (const draft of check.run(about, snapshot, today)) raised.push(raise({ check, draft, about }, snapshot));
  } catch (error) {
    raised.length = before;
    raised.push(raiseCrash({ check, about }, { file: snapshot.locate(about).file.path, error }, snapshot));
  }
}
