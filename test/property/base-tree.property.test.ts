import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type TreeNode, treeChildren, treeRecord } from '../../server/src/core/features/base-tree.ts';
import { familiesOf } from '../../server/src/core/features/family-members.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { arbitraryDamage, damageText } from '../harness/arbitrary-damage.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { drained } from '../harness/drained.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

/** All nodes of a tree, those above first. */
function* nodesOf(snapshot: Snapshot, key?: string): Generator<TreeNode> {
  for (const node of drained(treeChildren(key, snapshot))) {
    yield node;
    yield* nodesOf(snapshot, node.key);
  }
}

describe('the tree of a base', () => {
  it('every record that stands is in the tree, once in each family it belongs to and once where it belongs to none', () => {
    let seen = 0;
    assertLaw(
      150,
      fc.property(arbitraryFaultyFiles, (files) => {
        const snapshot = snapshotOf(files);
        const nodes = [...nodesOf(snapshot)];
        for (const record of snapshot.allRecords()) {
          const keys = nodes.flatMap((node) => (node.record === record ? node.key : []));
          const families = familiesOf(record, snapshot);
          const expected = families.map((id) => `family/${id}/${record.kind}/${record.id}`);
          if (record.kind === 'family') expect(keys).toEqual([`family/${record.id}`]);
          else if (families.length > 0) expect(keys.sort()).toEqual(expected.sort());
          else
            expect(keys).toEqual([expect.stringMatching(new RegExp(`^(base|all|apart)/${record.kind}/${record.id}$`))]);
          seen += keys.length;
        }
        expect(
          nodes.every(({ record }) => record === undefined || snapshot.findAny(record.kind, record.id) === record),
        ).toBe(true);
      }),
    );
    expectOften(seen, 1000);
  });

  it('a node has as many children as it says, and no two nodes of a tree have one key', () => {
    assertLaw(
      150,
      fc.property(arbitraryFaultyFiles, (files) => {
        const snapshot = snapshotOf(files);
        const nodes = [...nodesOf(snapshot)];
        for (const { key, children } of nodes) expect(drained(treeChildren(key, snapshot))).toHaveLength(children);
        expect(new Set(nodes.map(({ key }) => key)).size).toBe(nodes.length);
      }),
    );
  });

  it('the key of a node leads to the record it stands for', () => {
    assertLaw(
      150,
      fc.property(arbitraryFaultyFiles, (files) => {
        const snapshot = snapshotOf(files);
        for (const { key, record } of nodesOf(snapshot)) expect(treeRecord(key, snapshot)).toBe(record);
      }),
    );
  });

  it('no base, however broken, and no key makes it throw', () => {
    const step = fc.constantFrom('family', 'base', 'all', 'apart', 'drive', 'rule', 'tern', 'toString', '', '/', ' ');
    const anyKey = fc.array(step, { maxLength: 6 }).map((steps) => steps.join('/'));
    assertLaw(
      150,
      fc.property(arbitraryFaultyFiles, arbitraryDamage, anyKey, (files, damage, key) => {
        const { 'swaplore.yaml': config = '', ...texts } = files;
        const damaged = Object.entries(texts).map(([path, text]) => [path, damageText(text, damage)]);
        const snapshot = snapshotOf({ 'swaplore.yaml': config, ...Object.fromEntries(damaged) });
        for (const { key: known, label, description, spoken } of nodesOf(snapshot)) {
          expect(label).not.toBe('');
          expect(`${label}${description}${spoken}`).not.toMatch(/[\n\r]/);
          drained(treeChildren(`${known}/${key}`, snapshot));
          treeRecord(`${known}/${key}`, snapshot);
        }
        drained(treeChildren(key, snapshot));
        treeRecord(key, snapshot);
      }),
    );
  });
});
