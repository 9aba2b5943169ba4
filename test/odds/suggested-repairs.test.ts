import { expect, it } from 'vitest';
import { suggestedRepairs } from '../../server/src/core/odds/suggested-repairs.ts';
import { manyPairs } from '../harness/many-pairs.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

/** A pair by the works of patient and donor, and their heads: `KL/KL 4/4 works`. */
function benchOf(rule: object, pairs: readonly string[]) {
  const outcomes = pairs.map((pair, n) => ({
    patient: `p-${n}`,
    donor: `q-${n}`,
    works: pair.endsWith('works'),
    ...(pair.includes('unproved') ? { more: '' } : {}),
  }));
  const drives = pairs.flatMap((pair, n) => {
    const [sites = '', heads = ''] = pair.split(' ');
    return ['p', 'q'].map((side, at) =>
      JSON.stringify({
        ...{ kind: 'drive', id: `${side}-${n}`, family: 'tern-2' },
        ...{ site: sites.split('/')[at], heads: Number(heads.split('/')[at]) },
      }),
    );
  });
  const texts = manyPairs(outcomes, { 'rule.yaml': JSON.stringify({ kind: 'rule', id: 'law', ...rule }) });
  return snapshotOf({ ...texts, 'drives.yaml': drives.join('\n---\n') });
}

function repairsOf(rule: object, pairs: readonly string[]) {
  return suggestedRepairs(benchOf(rule, pairs)).map(({ against, entry, atLeast }) => ({ against, entry, atLeast }));
}

const six = Array.from({ length: 6 }, () => 'KL/KL 4/4 works');

it('adds to what is enough what its support has and what breaks it has not, beside what it asks already', () => {
  expect(repairsOf({ claim: 'enough', when: { same: ['heads'] } }, [...six, 'KL/SB 4/4 fails'])).toEqual([
    { against: ['o-7'], entry: { add: { same: ['site'] }, when: { same: ['heads', 'site'] } }, atLeast: 0.85 },
  ]);
  const different = Array.from({ length: 6 }, () => 'KL/SB 4/4 works');
  expect(repairsOf({ claim: 'enough', when: { same: ['heads'] } }, [...different, 'KL/KL 4/4 fails'])).toEqual([
    {
      against: ['o-7'],
      entry: { add: { different: ['site'] }, when: { same: ['heads'], different: ['site'] } },
      atLeast: 0.85,
    },
  ]);
  expect(
    repairsOf({ claim: 'enough', when: { different: ['heads'] } }, [
      ...Array.from({ length: 5 }, () => 'KL/SB 2/4 works'),
      'SB/SB 2/4 fails',
    ]),
  ).toEqual([
    {
      against: ['o-6'],
      entry: { add: { different: ['site'] }, when: { different: ['heads', 'site'] } },
      atLeast: 0.83,
    },
  ]);
});

it('adds to what prevents as to what is enough', () => {
  const failing = Array.from({ length: 5 }, () => 'KL/SB 4/4 fails');
  expect(repairsOf({ claim: 'prevents', when: { same: ['heads'] } }, [...failing, 'KL/KL 4/4 works'])).toEqual([
    {
      against: ['o-6'],
      entry: { add: { different: ['site'] }, when: { same: ['heads'], different: ['site'] } },
      atLeast: 0.83,
    },
  ]);
});

it('gives what is needed another way to be met, which what failed for want of it has not', () => {
  const failing = Array.from({ length: 5 }, () => 'KL/SB 2/4 fails');
  expect(repairsOf({ claim: 'needs', when: { same: ['heads'] } }, [...failing, 'KL/KL 2/4 works'])).toEqual([
    {
      against: ['o-6'],
      entry: { add: { same: ['site'] }, when: { any: [{ same: ['heads'] }, { same: ['site'] }] } },
      atLeast: 0.83,
    },
  ]);
  // Of swaps that met the need nothing is asked: they would stay right whatever is added.
  expect(
    repairsOf({ claim: 'needs', when: { same: ['heads'] } }, [...failing, 'KL/KL 4/4 works', 'KL/KL 2/4 works']),
  ).toMatchObject([{ against: ['o-7'], entry: { add: { same: ['site'] } } }]);
});

it('has no entry where none divides them, and no rate where less than half is left', () => {
  expect(repairsOf({ claim: 'enough', when: { same: ['heads'] } }, [...six, 'KL/KL 4/4 fails'])).toEqual([
    { against: ['o-7'], entry: undefined, atLeast: 0.85 },
  ]);
  const halves = (broken: number) => [...six, ...Array.from({ length: broken }, () => 'KL/KL 4/4 fails')];
  expect(repairsOf({ claim: 'enough', when: { same: ['heads'] } }, halves(6))).toMatchObject([{ atLeast: 0.5 }]);
  expect(repairsOf({ claim: 'enough', when: { same: ['heads'] } }, halves(7))).toMatchObject([{ atLeast: undefined }]);
});

it('leaves a rule alone that is a rate, that nothing breaks, or that fewer than five pairs support', () => {
  expect(repairsOf({ claim: 'enough', when: { same: ['heads'] }, at_least: 0.9 }, [...six, 'KL/SB 4/4 fails'])).toEqual(
    [],
  );
  expect(repairsOf({ claim: 'enough', when: { same: ['heads'] } }, six)).toEqual([]);
  expect(repairsOf({ claim: 'enough', when: { same: ['heads'] } }, [...six.slice(2), 'KL/SB 4/4 fails'])).toEqual([]);
  expect(repairsOf({ claim: 'enough', when: { same: ['heads'] } }, [...six.slice(1), 'KL/SB 4/4 fails'])).toHaveLength(
    1,
  );
});

it('takes the entry that leaves out least of what the rule was about where several would do', () => {
  // Equal works and equal heads both divide them; of what is neither for nor against, more has equal works.
  const pairs = [...six, 'KL/SB 2/4 fails', 'KL/KL 2/4 works unproved', 'KL/KL 2/4 fails unproved'];
  expect(repairsOf({ claim: 'enough', when: { rom_travels: true } }, pairs)).toMatchObject([
    { entry: { add: { same: ['heads'] }, when: { rom_travels: true, same: ['heads'] } } },
  ]);
  const others = [...six, 'KL/SB 2/4 fails', 'KL/SB 4/4 works unproved', 'KL/SB 4/4 fails unproved'];
  expect(repairsOf({ claim: 'enough', when: { rom_travels: true } }, others)).toMatchObject([
    { entry: { add: { same: ['site'] }, when: { rom_travels: true, same: ['site'] } } },
  ]);
});

it('asks where the ROM goes as it asks of any key', () => {
  const swaps = Array.from({ length: 6 }, (_, n) => ({ patient: `p-${n}`, donor: `q-${n}`, works: n < 5 }));
  const entryOf = (moved: boolean) => {
    const { 'outcomes.yaml': outcomes = '', ...texts } = manyPairs(swaps, {
      'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nadaptives: {stored_in: rom_chip}\n',
      'rule.yaml': 'kind: rule\nid: law\nclaim: enough\nwhen: {same: [family]}\n',
    });
    const documents = outcomes.split('---\n').map((text) => {
      const isMoved = text.includes('result: works') === moved;
      return isMoved ? text.replace('rom: left', 'rom: chip_moved\nrom_proved: read_back') : text;
    });
    const snapshot = snapshotOf({ ...texts, 'outcomes.yaml': documents.join('---\n') });
    return suggestedRepairs(snapshot).map(({ entry }) => entry);
  };
  expect(entryOf(true)).toEqual([{ add: { rom_travels: true }, when: { same: ['family'], rom_travels: true } }]);
  expect(entryOf(false)).toEqual([{ add: { rom_travels: false }, when: { same: ['family'], rom_travels: false } }]);
});
