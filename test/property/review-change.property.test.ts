import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../server/src/core/checks/finding.ts';
import { findingsOf, runChecks } from '../../server/src/core/checks/run-checks.ts';
import { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { nameOf } from '../../server/src/core/model/record.ts';
import { reviewData } from '../../server/src/core/reports/review-data.ts';
import { type Review, reviewChange } from '../../server/src/core/review/review-change.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { arbitraryBase } from '../harness/arbitrary-base.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { arbitraryFileWalk, arbitraryRecordWalk, editedPaths, type Walk } from '../harness/arbitrary-walk.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { drained } from '../harness/drained.ts';
import { configFileOf, fileOf, snapshotOf } from '../harness/snapshot-of.ts';
import { arbitraryLayout, writeFiles } from '../harness/write-files.ts';

const today = parseDate('2026-11-25') ?? 0;

type Texts = Walk[0];

function review(before: Snapshot, after: Snapshot): Review {
  return drained(reviewChange({ before, after }, today));
}

/** The base of the second texts as an edit of the first. */
function edited(before: Snapshot, from: Texts, to: Texts): Snapshot {
  const edits = editedPaths(from, to).map((path) => {
    const text = to[path];
    return { path, file: text === undefined ? undefined : fileOf(path, text) };
  });
  return before.with(edits).withConfig(configFileOf(to['swaplore.yaml'] ?? 'swaplore: 1\n'));
}

/** Two states of a base: single records that differ, whole files that come, go and break, or other settings. */
const arbitraryChange: fc.Arbitrary<readonly [Texts, Texts]> = fc
  .tuple(
    fc.oneof(arbitraryRecordWalk({ minLength: 1, maxLength: 4 }), arbitraryFileWalk({ minLength: 1, maxLength: 3 })),
    fc.constantFrom(
      undefined,
      undefined,
      'works_at: spins',
      'severity: {outcome-breaks-rule: off, rule-untested: error}',
    ),
  )
  .map(([[start, ...steps], setting]) => {
    const end = steps.at(-1) ?? start;
    return [start, setting === undefined ? end : { ...end, 'swaplore.yaml': `swaplore: 1\n${setting}\n` }];
  });

/** What a review says, in a form that two can be compared in. */
function said(one: Review): unknown {
  return reviewData(one, { base: '', head: '', remarks: [], findingData: plain });
}

function plain({ check, severity, record, message }: Finding): object {
  return { check, severity, record, message };
}

function names(records: Review['records']['added']): string[] {
  return records.map(({ record }) => nameOf(record));
}

function bySaying(findings: readonly Finding[]): string[] {
  return findings.map((finding) => JSON.stringify(plain({ ...finding, severity: 'info' }))).sort();
}

describe('reviews', () => {
  it('a base compared with itself has no change', () => {
    assertLaw(
      20,
      fc.property(arbitraryFaultyFiles, (files) => {
        const same = review(snapshotOf(files), snapshotOf(files));
        const { findings, records, verdicts, rules, odds, config, questions, standings } = same;
        expect([...findings.new, ...findings.gone]).toEqual([]);
        expect({ records, verdicts, rules, odds, config, questions, standings }).toEqual({
          records: { added: [], changed: [], removed: [] },
          ...{ verdicts: [], rules: [], odds: [], config: [], questions: [] },
          standings: { donors: [], patientsLeftOut: 0, rules: [] },
        });
      }),
    );
  });

  it('exchanging before and after exchanges what was added and removed, and what is new and gone', () => {
    assertLaw(
      20,
      fc.property(arbitraryChange, ([from, to]) => {
        const [before, after] = [snapshotOf(from), snapshotOf(to)];
        const [there, back] = [review(before, after), review(after, before)];
        expect(names(back.records.removed)).toEqual(names(there.records.added));
        expect(names(back.records.added)).toEqual(names(there.records.removed));
        expect(names(back.records.changed)).toEqual(names(there.records.changed));
        expect(bySaying(back.findings.new)).toEqual(bySaying(there.findings.gone));
        expect(bySaying(back.findings.gone)).toEqual(bySaying(there.findings.new));
        expect(back.findings.still).toBe(there.findings.still);
        expect(back.rules.map(({ id }) => id)).toEqual(there.rules.map(({ id }) => id));
        expect(back.odds.map(({ family }) => family)).toEqual(there.odds.map(({ family }) => family));
      }),
    );
  });

  it('the order and the places of files change nothing', () => {
    assertLaw(
      15,
      fc.property(arbitraryBase, arbitraryLayout, arbitraryLayout, (base, one, other) => {
        const moved = review(snapshotOf(writeFiles(base, one)), snapshotOf(writeFiles(base, other)));
        const { records, findings, verdicts, rules, odds, questions } = moved;
        expect(records).toEqual({ added: [], changed: [], removed: [] });
        expect([findings.new, findings.gone, verdicts, rules, odds, questions]).toEqual([[], [], [], [], [], []]);
      }),
    );
    assertLaw(
      8,
      fc.property(arbitraryChange, ([from, to]) => {
        const [before, after] = [snapshotOf(from), snapshotOf(to)];
        const reversed = ({ configFile, files }: Snapshot): Snapshot =>
          Snapshot.of(configFile, [...files.values()].reverse());
        expect(said(review(reversed(before), reversed(after)))).toEqual(said(review(before, after)));
      }),
    );
  });

  it('comments, the order of keys and line ends are no change', () => {
    assertLaw(
      15,
      fc.property(arbitraryBase, arbitraryLayout, (base, layout) => {
        const texts = writeFiles(base, layout);
        const other = Object.fromEntries(
          Object.entries(writeFiles(withKeysReversed(base), { ...layout, comments: [1, 5, 2] })).map(([path, text]) => [
            path,
            text.replaceAll('\n', '\r\n'),
          ]),
        );
        const { records, findings, verdicts } = review(snapshotOf(texts), snapshotOf(other));
        expect(records).toEqual({ added: [], changed: [], removed: [] });
        expect([findings.new, findings.gone, verdicts]).toEqual([[], [], []]);
      }),
    );
  });

  it('the findings of the base with the change are those that are new and those that are still there', () => {
    assertLaw(
      15,
      fc.property(arbitraryChange, ([from, to]) => {
        const after = snapshotOf(to);
        const { findings } = review(snapshotOf(from), after);
        const all = bySaying(findingsOf(drained(runChecks(after, { today }))));
        expect(all).toHaveLength(findings.new.length + findings.still);
        expect(all).toEqual(expect.arrayContaining(bySaying(findings.new)));
      }),
    );
  });

  it('two unrelated snapshots give what two of one family give', () => {
    assertLaw(
      20,
      fc.property(arbitraryChange, ([from, to]) => {
        const before = snapshotOf(from);
        expect(said(review(before, edited(before, from, to)))).toEqual(said(review(snapshotOf(from), snapshotOf(to))));
      }),
    );
  });
});

function withKeysReversed<Value>(value: Value): Value {
  if (Array.isArray(value)) return value.map(withKeysReversed) as Value;
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).map(([key, inner]) => [key, withKeysReversed(inner)]);
  return Object.fromEntries(entries.reverse()) as Value;
}
