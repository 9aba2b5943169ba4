import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { type AnyRecord, nameOf } from '../../server/src/core/model/record.ts';
import { ruleResults } from '../../server/src/core/reasoning/rule-results.ts';
import { kinds } from '../../server/src/core/terms/kinds.ts';
import { type Evidence, evidenceOf } from '../../server/src/core/verdicts/evidence.ts';
import { idPools } from './base-values.ts';
import { lintSnapshot } from './lint-files.ts';

/** All that can be asked of a snapshot of files with these texts, as plain data that two snapshots can be compared by. */
export function describeSnapshot(snapshot: Snapshot, texts: Readonly<Record<string, string>>): unknown {
  const ids = Object.values<readonly string[]>(idPools).flat();
  return {
    files: [...snapshot.files.keys()].sort(),
    records: allRecords(snapshot).map((record) => describeRecord(record, snapshot)),
    duplicates: [...snapshot.duplicates()]
      .map(({ again, first }) => `${nameOf(again.record)} in ${again.file.path}, first in ${first.file.path}`)
      .sort(),
    bareIds: kinds.map((kind) => ids.filter((id) => snapshot.hasBareId(kind, id))),
    mayMissIds: snapshot.mayMissIds,
    evidence: snapshot.records('outcome').map((outcome) => describeEvidence(evidenceOf(outcome, snapshot))),
    results: ruleResults(snapshot).map(({ rule, ...lists }) => ({
      rule,
      lists: Object.entries(lists).map(([name, list]) => [name, list.map(describeEvidence)]),
    })),
    findings: lintSnapshot(snapshot, texts),
  };
}

/** The records of a snapshot that stand, kind by kind. */
export function allRecords(snapshot: Snapshot): AnyRecord[] {
  return kinds.flatMap((kind) => snapshot.records(kind) as readonly AnyRecord[]);
}

function describeRecord(record: AnyRecord, snapshot: Snapshot): unknown {
  const { file, document } = snapshot.locate(record);
  const isFound = snapshot.find(record.kind, record.id) === record;
  return { record, file: file.path, contentId: file.contentId, document, isFound };
}

function describeEvidence({ outcome, swap, verdicts }: Evidence): unknown {
  return { outcome: outcome.id, swap, verdicts };
}
