/**
 * What a check has raised, with the finding that comes of it: the draft, its places in the files as they are, and its severity in this base.
 */
import { relisted } from '../index/relisted.ts';
import type { SharedMap } from '../index/shared-map.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, nameOf } from '../model/record.ts';
import type { Severity } from '../terms/severities.ts';
import { withShortQuotes } from '../text/with-short-quotes.ts';
import { configPath } from './config-invalid.ts';
import type { Check, Draft, Spot } from './define-check.ts';
import type { Finding, Place } from './finding.ts';
import type { Fix } from './fix.ts';
import { describeCrash, internalCheckFailed } from './internal-check-failed.ts';

/** What a check has raised over one snapshot. */
export interface Raised {
  readonly check: Check;
  readonly draft: Draft;
  /** The record that was checked; undefined where a check is not about single records. */
  readonly about: AnyRecord | undefined;
  readonly finding: Finding;
}

/** A draft with its finding. Throws where it points at something that does not stand in this base: then the check is at fault. */
export function raise(claim: Omit<Raised, 'finding'>, snapshot: Snapshot): Raised {
  const { check, draft, about } = claim;
  return { check, draft, about, finding: toFinding(check, draft, snapshot) };
}

/** What is raised where a check crashes, at a file. */
export function raiseCrash(
  { check, about }: Pick<Raised, 'check' | 'about'>,
  { file, error }: { readonly file: string; readonly error: unknown },
  snapshot: Snapshot,
): Raised {
  return raise({ check: internalCheckFailed, draft: describeCrash(check.check, file, error), about }, snapshot);
}

/** Findings by the file they are shown in, in no particular order; files without any are absent. */
export type FindingsByFile = SharedMap<readonly Finding[]>;

/** What was raised in all. */
export interface Gathered {
  /** Findings of an earlier run that still stand are the same objects. */
  readonly findings: FindingsByFile;
  /** All that was raised, by each file that it points into. */
  readonly pointers: SharedMap<readonly Raised[]>;
  /** Checks that failed over single records. */
  readonly crashes: number;
}

/** What was raised in all, as it follows from what came and went since an earlier run. */
export function gather(
  { gone, come }: { readonly gone: readonly Raised[]; readonly come: readonly Raised[] },
  before?: Gathered,
): Gathered {
  const found = { gone: gone.map(({ finding }) => finding), come: come.map(({ finding }) => finding) };
  const crashesIn = (raised: readonly Raised[]): number => raised.filter(isCrashOverRecord).length;
  return {
    findings: relisted(before?.findings, found, ({ place }) => [place.file]),
    pointers: relisted(before?.pointers, { gone, come }, filesPointedInto),
    crashes: (before?.crashes ?? 0) - crashesIn(gone) + crashesIn(come),
  };
}

function isCrashOverRecord({ check, about }: Raised): boolean {
  return check === internalCheckFailed && about !== undefined;
}

function filesPointedInto({ finding: { place, related } }: Raised): Iterable<string> {
  return related.length === 0 ? [place.file] : new Set([place.file, ...related.map((other) => other.place.file)]);
}

/** The severity a base gives a check; undefined where it leaves the check its own. Faults of files and our own cannot be hushed. */
export function severityFor(check: Check, snapshot: Snapshot): Severity | 'off' | undefined {
  const isFixed = check.group === 'file' || check.group === 'internal';
  return isFixed ? undefined : snapshot.config.severity[check.check];
}

/** The files that differ between two snapshots, those that records name and the config among them. */
export function touchedFiles(before: Snapshot, after: Snapshot): ReadonlySet<string> {
  const touched = new Set([
    ...before.files.differingKeys(after.files),
    ...before.attachments.differingKeys(after.attachments),
  ]);
  if (before.configFile !== after.configFile) touched.add(configPath);
  return touched;
}

function toFinding(check: Check, draft: Draft, snapshot: Snapshot): Finding {
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
  const placed = snapshot.files.get(spot.file)?.facts.records.find((candidate) => candidate.document === spot.document);
  return placed && nameOf(placed.record);
}
