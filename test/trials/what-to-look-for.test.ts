import { expect, it } from 'vitest';
import type { ConditionData } from '../../schemas/gen/records.ts';
import { describeFormula } from '../../server/src/core/conditions/describe.ts';
import { toFormula } from '../../server/src/core/conditions/formula.ts';
import type { Claim } from '../../server/src/core/explanations/claims-of.ts';
import { conditionOf } from '../../server/src/core/explanations/entry.ts';
import { wantedWords } from '../../server/src/core/reports/wanted-words.ts';
import { whatToLookFor } from '../../server/src/core/trials/what-to-look-for.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

const snapshot = snapshotOf({
  'board.yaml':
    'kind: board\nid: k-10\nmaker: wren\npart_number: "10"\nrevisions: [{rev: A, contact_pads: 20}, {rev: B, contact_pads: 22}]\n',
});

function works(condition: ConditionData): Claim {
  return { condition, formula: toFormula(condition, []), holds: 'works' };
}

function fails(condition: ConditionData): Claim {
  return { ...works(condition), holds: 'fails' };
}

function words(a: Claim, b: Claim): string | undefined {
  const wanted = whatToLookFor(a, b, snapshot);
  return wanted && wantedWords(wanted);
}

it('asks for two drives that one explanation calls a match and the other does not', () => {
  expect(words(works({ same: ['preamp'] }), works({ same: ['site'] }))).toBe(
    'two drives with the same `preamp` and a different `site`',
  );
  expect(words(works({ rom_travels: true }), works({ same: ['rev'] }))).toBe(
    "two drives with the same `rev`, and swap them with the donor's ROM left in place",
  );
});

it('asks for no pair that records of boards rule out', () => {
  // Boards of one revision are of one board.
  expect(words(works({ same: ['rev'] }), works({ same: ['board'] }))).toBe(
    'two drives with the same `board` and a different `rev`',
  );
});

it('asks for a value that neither explanation names where that alone tells', () => {
  expect(words(fails({ donor: { rev: 'k-10/A' } }), works({ donor: { rev: 'k-10/B' } }))).toBe(
    'a donor whose `rev` is neither `k-10/A` nor `k-10/B`',
  );
});

it('finds nothing between two ways to say the same', () => {
  expect(whatToLookFor(works({ same: ['site'] }), fails({ different: ['site'] }), snapshot)).toBeUndefined();
  const both = works({ same: ['rev', 'board'] });
  expect(whatToLookFor(both, works({ same: ['rev'] }), snapshot)).toBeUndefined();
});

it('means what it says', () => {
  const wanted = whatToLookFor(works({ same: ['preamp'] }), works({ same: ['site'] }), snapshot)!;
  expect(describeFormula(toFormula(conditionOf(wanted), []))).toBe('same: [preamp], different: [site]');
});
