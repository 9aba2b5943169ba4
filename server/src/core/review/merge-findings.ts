import type { Finding, Place } from '../checks/finding.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, nameOf } from '../model/record.ts';
import { findingChanges } from './finding-changes.ts';
import type { MergeFinding, Side } from './review.ts';
import { valueChanges } from './value-changes.ts';

/** The three states that meet in a merge, and what comes of it. */
export interface Merge {
  readonly before: Snapshot;
  readonly after: Snapshot;
  readonly theirs: Snapshot;
  readonly merged: Snapshot;
}

/** The findings of each of them, without that of both sides before they parted. */
export interface MergeRuns {
  readonly after: readonly Finding[];
  readonly theirs: readonly Finding[];
  readonly merged: readonly Finding[];
}

/** Findings of a merged base that neither side has alone, each with who brought what it is about. */
export function mergeFindings(merge: Merge, runs: MergeRuns): readonly MergeFinding[] {
  const notOurs = findingChanges(runs.after, runs.merged).new;
  return findingChanges(runs.theirs, notOurs).new.map((finding) => ({ finding, brought: broughtBy(finding, merge) }));
}

function broughtBy({ place, related }: Finding, merge: Merge): MergeFinding['brought'] {
  const brought = new Map<string, MergeFinding['brought'][number]>();
  for (const one of [place, ...related.map((other) => other.place)]) {
    const record = recordAt(one, merge.merged);
    if (!record) continue;
    const name = nameOf(record);
    brought.set(`${name} ${one.file}`, { record: name, file: one.file, by: sideOf(record, one.file, merge) });
  }
  return [...brought.values()];
}

function recordAt({ file, target }: Place, merged: Snapshot): AnyRecord | undefined {
  if (!('document' in target)) return undefined;
  return merged.files.get(file)?.facts.records.find(({ document }) => document === target.document)?.record;
}

/** Who has made a record what it is. Several with one id are known by their files; one alone is known wherever it stood. */
function sideOf({ kind, id }: AnyRecord, file: string, { before, after, theirs, merged }: Merge): Side {
  const isOne = merged.standings(kind, id).length === 1;
  const recordIn = (snapshot: Snapshot): AnyRecord | undefined =>
    isOne
      ? snapshot.findAny(kind, id)
      : snapshot.standings(kind, id).find((standing) => standing.file.path === file)?.record;
  const isTouchedBy = (side: Snapshot): boolean => {
    const [then, now] = [recordIn(before), recordIn(side)];
    return then && now ? then !== now && valueChanges(then, now).length > 0 : then !== now;
  };
  const isTheirs = isTouchedBy(theirs);
  if (isTouchedBy(after)) return isTheirs ? 'both' : 'change';
  return isTheirs ? 'base' : 'neither';
}
