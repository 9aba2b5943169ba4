import { expect, it } from 'vitest';
import { toFormula } from '../../server/src/core/conditions/formula.ts';
import { answersTo, familyMeans } from '../../server/src/core/odds/family-means.ts';
import { familyRate } from '../../server/src/core/odds/family-rates.ts';
import { allEvidence } from '../../server/src/core/verdicts/evidence.ts';
import { manyPairs } from '../harness/many-pairs.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

const sameSite = toFormula({ same: ['site'] }, []);

/** Drives by works, in two families of one maker and one of another; the first tried some drives again and again. */
function baseOf(again: boolean) {
  const tern = [
    ...[
      { patient: 'a', donor: 'b', works: true },
      { patient: 'c', donor: 'd', works: false },
    ],
    ...(again
      ? [
          { patient: 'b', donor: 'a', works: true },
          { patient: 'a', donor: 'c', works: false },
        ]
      : []),
    { patient: 'e', donor: 'f', works: true },
  ];
  const sister = [
    { patient: 'g', donor: 'h', works: true },
    { patient: 'i', donor: 'j', works: true },
  ];
  const stranger = [{ patient: 'k', donor: 'l', works: false }];
  const outcomes = [...tern, ...sister, ...stranger];
  const familyOf = (id: string) => (id < 'g' ? 'tern-2' : id < 'k' ? 'tern-3' : 'plover');
  const sites: Readonly<Record<string, string | undefined>> = {
    a: 'KL',
    b: 'KL',
    c: 'KL',
    d: 'SB',
    g: 'KL',
    h: 'KL',
    k: 'SB',
    l: 'SB',
  };
  const texts = manyPairs(outcomes, {
    'more.yaml': `kind: maker\nid: crake\nname: Crake\n---\n${['tern-3', 'plover']
      .map(
        (id) =>
          `kind: family\nid: ${id}\nmaker: ${id === 'plover' ? 'crake' : 'wren'}\nname: ${id}\nadaptives: {stored_in: platters}\n`,
      )
      .join('---\n')}`,
  });
  const drives = [...'abcdefghijkl'].map((id) => {
    const site = sites[id];
    return JSON.stringify({ kind: 'drive', id, family: familyOf(id), ...(site && { site }) });
  });
  return snapshotOf({ ...texts, 'drives.yaml': drives.join('\n---\n') });
}

it.each([[false], [true]])(
  'the mean of what is wanted leans on sister families, with drives tried again: %j',
  (again) => {
    const snapshot = baseOf(again);
    for (const family of ['tern-2', 'tern-3', 'plover']) {
      const meanOf = familyMeans({ family, romTravels: undefined, formulas: [sameSite] }, snapshot);
      const row = (given: Parameters<typeof familyRate>[0]['given']) =>
        familyRate({ family, romTravels: undefined, given }, snapshot)!.pooled.mean;
      expect(meanOf('y')).toBeCloseTo(row(sameSite), 12);
      expect(meanOf('n')).toBeCloseTo(row({ op: 'not', part: sameSite }), 12);
      expect(meanOf('?')).toBeCloseTo(row({ op: 'all', parts: [] }), 12);
    }
  },
);

it('knows nothing of a family that is not recorded', () => {
  expect(familyMeans({ family: 'rail', romTravels: undefined, formulas: [] }, baseOf(false))('')).toBeUndefined();
});

it('says of a swap what each formula does', () => {
  const formulas = [sameSite, toFormula({ same: ['heads'] }, []), toFormula({ different: ['site'] }, [])];
  const answers = allEvidence(baseOf(true)).map(({ swap }) => swap && answersTo(formulas, swap));
  expect(answers).toEqual(['y?n', 'n?y', 'y?n', 'y?n', '???', 'y?n', '???', 'y?n']);
});
