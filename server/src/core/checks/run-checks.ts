/**
 * Runs the checks over a snapshot.
 * Invariant 10: a generator that yields every few records, so that an adapter can slice the work or stop it.
 * Invariant 14: a crash in one check becomes a finding; the rest still run.
 * Laws (test/property/run-checks.property.test.ts):
 * - shuffled files give the same findings
 * - a check switched off changes no other finding
 * - a drive that nothing refers to changes no finding
 * - a run ends, however much one check finds
 */
import type { BaseFile, Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, nameOf } from '../model/record.ts';
import type { Day } from '../terms/calendar.ts';
import { kinds } from '../terms/kinds.ts';
import type { Severity } from '../terms/severities.ts';
import { configPath } from './config-invalid.ts';
import type { Check, Draft, Spot } from './define-check.ts';
import type { Finding, Place } from './finding.ts';
import { describeCrash, internalCheckFailed } from './internal-check-failed.ts';
import { checks as allChecks } from './registry.ts';

/** Records between two yields. */
const recordsPerSlice = 200;

/** All findings of a base on a day, in no particular order: sorting needs offsets, see `resolve-findings.ts`. */
export function* runChecks(
  snapshot: Snapshot,
  today: Day,
  checks: readonly Check[] = allChecks,
): Generator<undefined, Finding[]> {
  const findings: Finding[] = [];
  for (const check of checks) {
    const severity = severityFor(check, snapshot);
    if (severity === 'off') continue;
    for (const { file, run } of runsOf(check, snapshot, today)) {
      if (!run) {
        yield;
        continue;
      }
      // One by one: a megabyte of repeated keys makes more findings than a call may have arguments.
      for (const finding of findingsOf(run, { check, severity, file, snapshot })) findings.push(finding);
    }
    yield;
  }
  return findings;
}

interface Run {
  /** The file a crash is reported at, looked up only if there is one. */
  readonly file: () => string;
  /** Undefined where the generator should yield. */
  readonly run: (() => Iterable<Draft>) | undefined;
}

function* runsOf(check: Check, snapshot: Snapshot, today: Day): Generator<Run> {
  switch (check.scope) {
    case 'config':
      yield { file: () => configPath, run: () => check.run(snapshot.configFile) };
      return;
    case 'file':
      for (const file of snapshot.files.values()) {
        if (file.facts.faults.length > 0) yield { file: () => file.path, run: () => check.run(file) };
      }
      return;
    case 'record':
      yield* recordRuns(check, snapshot, today);
      return;
    case 'base':
      yield { file: () => configPath, run: () => check.run(snapshot) };
      return;
    case 'run':
      return;
  }
}

function* recordRuns(check: Extract<Check, { scope: 'record' }>, snapshot: Snapshot, today: Day): Generator<Run> {
  let count = 0;
  for (const kind of check.kinds ?? kinds) {
    for (const record of snapshot.records(kind) as readonly AnyRecord[]) {
      yield { file: () => snapshot.locate(record).file.path, run: () => check.run(record, snapshot, today) };
      if (++count % recordsPerSlice === 0) yield { file: () => configPath, run: undefined };
    }
  }
}

interface Setting {
  readonly check: Check;
  readonly severity: Severity | undefined;
  readonly file: () => string;
  readonly snapshot: Snapshot;
}

function findingsOf(run: () => Iterable<Draft>, { check, severity, file, snapshot }: Setting): Finding[] {
  try {
    return Array.from(run(), (draft) => toFinding(draft, check, severity, snapshot));
  } catch (error) {
    return [toFinding(describeCrash(check.check, file(), error), internalCheckFailed, undefined, snapshot)];
  }
}

/** The severity a base gives a check; undefined where it leaves the check its own. Faults of files and our own cannot be hushed. */
function severityFor(check: Check, snapshot: Snapshot): Severity | 'off' | undefined {
  const isFixed = check.group === 'file' || check.group === 'internal';
  return isFixed ? undefined : snapshot.config.severity[check.check];
}

function toFinding(draft: Draft, check: Check, severity: Severity | undefined, snapshot: Snapshot): Finding {
  return {
    check: check.check,
    severity: severity ?? draft.severity ?? check.severity,
    place: toPlace(draft.at, snapshot),
    message: draft.message,
    help: draft.help,
    record: recordOf(draft.at, snapshot),
    related: (draft.related ?? []).map(({ at, message }) => ({ place: toPlace(at, snapshot), message })),
  };
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
  return path === configPath ? snapshot.configFile.contentId : (snapshot.files.get(path)?.contentId ?? '');
}

function recordOf(spot: Spot, snapshot: Snapshot): string | undefined {
  if ('record' in spot) return nameOf(spot.record);
  if (!('document' in spot)) return undefined;
  const file: BaseFile | undefined = snapshot.files.get(spot.file);
  const placed = file?.facts.records.find((candidate) => candidate.document === spot.document);
  return placed && nameOf(placed.record);
}
