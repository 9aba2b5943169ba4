import { describe, expect, it } from 'vitest';
import type { Review } from '../../server/src/core/review/review-change.ts';
import { reviewOfChange } from '../harness/review-of.ts';
import { snapshotOf, type Texts } from '../harness/snapshot-of.ts';
import { outcome, ternBench } from '../harness/tern-bench.ts';

/** What comes of a merge in which either side has files of its own. */
function mergeOf(ours: Texts, theirs: Texts, before: Texts = ternBench): string[] {
  const after = { ...before, ...ours };
  const merged = { ...before, ...theirs, ...ours };
  const review = reviewOfChange({
    before: snapshotOf(before),
    after: snapshotOf(after),
    merge: { theirs: snapshotOf({ ...before, ...theirs }), merged: snapshotOf(merged) },
  });
  return (review.onMerge ?? []).map(inWords);
}

function inWords({ finding, brought }: NonNullable<Review['onMerge']>[number]): string {
  return `${finding.check}: ${brought.map(({ record, file, by }) => `${record} in ${file} by ${by}`).join(', ')}`;
}

describe('findings of a merge', () => {
  it('names both sides where they took one id', () => {
    const [one, other] = [outcome('same', 'chip_moved'), outcome('same', 'image_written')];
    expect(mergeOf({ 'outcomes/ours.yaml': one }, { 'outcomes/theirs.yaml': other })).toEqual([
      'duplicate-id: outcome/same in outcomes/theirs.yaml by base, outcome/same in outcomes/ours.yaml by change',
    ]);
  });

  it('names both sides where an outcome of one breaks a rule of the other', () => {
    const rule = 'kind: rule\nid: never\nclaim: prevents\nwhen: {rom_travels: false}\nbasis: measured\n';
    const left = outcome('left', 'left');
    const { 'rules/tern.yaml': _, ...lawless } = ternBench;
    expect(mergeOf({ 'outcomes/left.yaml': left }, { 'rules/never.yaml': rule }, lawless)).toEqual([
      'outcome-breaks-rule: outcome/left in outcomes/left.yaml by change, rule/never in rules/never.yaml by base',
    ]);
  });

  it('finds nothing in what either side has alone', () => {
    const left = outcome('left', 'left');
    expect(mergeOf({ 'outcomes/left.yaml': left }, { 'makers/kestrel.yaml': 'kind: maker\nid: kestrel\n' })).toEqual(
      [],
    );
  });

  it('is not spoken of where nothing was merged', () => {
    const snapshot = snapshotOf(ternBench);
    expect(reviewOfChange({ before: snapshot, after: snapshot }).onMerge).toBeUndefined();
  });
});
