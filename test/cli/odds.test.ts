import { describe, expect, it } from 'vitest';
import { manyPairs, type PairOutcome } from '../harness/many-pairs.ts';
import { folderOf, runCommand, swaplore } from '../harness/run-cli.ts';

/** Pairs of drives that share none: the first so many worked. */
function apart(worked: number, all: number): PairOutcome[] {
  return Array.from({ length: all }, (_, n) => ({ patient: `p-${n}`, donor: `q-${n}`, works: n < worked }));
}

/** The same of other drives, without any control. */
function uncontrolled(worked: number, all: number): PairOutcome[] {
  return Array.from({ length: all }, (_, n) => ({ patient: `u-${n}`, donor: `v-${n}`, works: n < worked, more: '' }));
}

const config = { 'swaplore.yaml': 'swaplore: 1\nname: Harbour Street bench\n' };

const another = {
  ...config,
  'families/gull.yaml': 'kind: family\nid: gull\nmaker: wren\nname: Gull\nadaptives: {stored_in: rom_chip}\n',
};

it('says of one success in four pairs between what its rate may lie, and never a rate alone', () => {
  expect(swaplore(manyPairs(apart(1, 4), another), ['odds'])).toMatchInlineSnapshot(`
    "Odds: Harbour Street bench
    ==========================

    Pairs of drives that worked at \`reads\`, by family of the patient.

    tern-2

    Adaptives stay on the platters
      1 of 4 pairs worked; the true rate is likely between 0.6 % and 81 %.
      4 pairs, 8 drives: no two pairs share a drive.
      Leave out any one drive, and 0 % to 33 % of the pairs left worked.
      In the light of all families, 31 % is to be expected, likely between 3 % and
      72 %.

    Nothing to count yet: \`gull\`.

    Only outcomes with every control count, and a pair of drives counts once, for
    the share of its trials that worked. Bounds are exact at 95 % and rest on pairs
    that share no drive. All this is what was recorded, and promises nothing of the
    next swap.
    exit 0"
  `);
});

it('says where pairs share drives, and what is not counted', () => {
  const drives = ['a', 'b', 'c', 'd', 'e', 'f'];
  const pairs = drives.flatMap((patient, n) =>
    drives.slice(n + 1).map((donor): PairOutcome => ({ patient, donor, works: patient !== 'c' && donor !== 'c' })),
  );
  const left = [
    { patient: 'g', donor: 'h', works: true, more: '' },
    { patient: 'g', donor: 'i', works: false, more: '' },
  ];
  expect(swaplore(manyPairs([...pairs, ...left], config), ['odds'])).toMatchInlineSnapshot(`
    "Odds: Harbour Street bench
    ==========================

    Pairs of drives that worked at \`reads\`, by family of the patient.

    tern-2

    Adaptives stay on the platters
      10 of 15 pairs worked; the true rate is likely between 9 % and 99.2 %.
      15 pairs, 6 drives; they share drives, so the bounds rest on 3 independent
      pairs.
      Leave out any one drive, and 60 % to 100 % of the pairs left worked.
      In the light of all families, 62 % is to be expected, likely between 18 % and
      96 %.
      Not counted: 1 that worked without every control, 1 inconclusive.

    Only outcomes with every control count, and a pair of drives counts once, for
    the share of its trials that worked. Bounds are exact at 95 % and rest on pairs
    that share no drive. All this is what was recorded, and promises nothing of the
    next swap.
    exit 0"
  `);
});

it('counts apart what of a condition is not known', () => {
  const files = manyPairs([...apart(1, 2), { patient: 'x', donor: 'y', works: true }], config);
  const drives = files['drives.yaml']!.replace(/id: [pq]-\d\n/g, '$&heads: 4\n');
  expect(swaplore({ ...files, 'drives.yaml': drives }, ['odds', '--given', '{same: [heads]}'])).toMatchInlineSnapshot(`
    "Odds: Harbour Street bench
    ==========================

    Pairs of drives that worked at \`reads\`, given \`same: [heads]\`, by family of the
    patient.

    tern-2

    Adaptives stay on the platters
      1 of 2 pairs worked; the true rate is likely between 1 % and 99 %.
      2 pairs, 4 drives: no two pairs share a drive.
      Leave out any one drive, and 0 % to 100 % of the pairs left worked.
      In the light of all families, 50 % is to be expected, likely between 7 % and
      93 %.
      Of 1 outcome the condition is not known.

    Only outcomes with every control count, and a pair of drives counts once, for
    the share of its trials that worked. Bounds are exact at 95 % and rest on pairs
    that share no drive. All this is what was recorded, and promises nothing of the
    next swap.
    exit 0"
  `);
});

it.each([
  [
    'high',
    [...apart(6, 8), ...uncontrolled(0, 12)],
    '6 of 8 pairs worked; the true rate is likely between 35 % and 97 %.',
    'Counted with them, the inconclusive as failures, 30 % worked: if controls were made mostly after successes, these rates are too high.',
  ],
  [
    'low',
    [...apart(0, 3), ...uncontrolled(8, 8)],
    '0 of 3 pairs worked; the true rate is likely between 0 % and 71 %.',
    'Counted with them, 73 % worked: if controls were made mostly after failures, these rates are too low.',
  ],
])('says that rates may be too %s where what is not counted lies outside their bounds', (_, outcomes, ...said) => {
  const text = swaplore(manyPairs(outcomes, config), ['odds']).replace(/\n +/g, ' ');
  for (const sentence of said) expect(text).toContain(sentence);
});

it('says nothing of the kind where as many successes as failures lack a control', () => {
  const text = swaplore(manyPairs([...apart(3, 10), ...uncontrolled(12, 40)], config), ['odds']);
  expect(text).toContain('Not counted: 12 that worked without every control, 28 inconclusive.');
  expect(text).not.toContain('if controls');
});

it('gives the same as data, three rows a family', () => {
  const folder = folderOf(manyPairs([...apart(2, 4), { patient: 'q-0', donor: 'p-0', works: false }], another));
  const { stdout, stderr, code } = runCommand(folder, [
    'odds',
    '--json',
    '--family',
    'tern-2',
    '--given',
    '{rom_travels: true}',
  ]);
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
  const [travelled, not, both] = JSON.parse(stdout);
  expect(travelled).toEqual({
    ...{
      family: 'tern-2',
      given: { rom_travels: true },
      romTravels: true,
      outcomes: 5,
      pairs: 4,
      works: 1.5,
      drives: 8,
    },
    ...{ independentPairs: 4, uncontrolled: { worked: 0, open: 0 }, notKnown: 0 },
    // Source: scipy 1.17.1, scipy.stats.beta.ppf; Wilson's by hand.
    exact: [expect.closeTo(0.028470895087, 9), expect.closeTo(0.87724611723, 9)],
    wilson: [expect.closeTo(0.091899, 5), expect.closeTo(0.780573, 5)],
    jeffreys: [expect.closeTo(0.067585986489, 9), expect.closeTo(0.80587955032, 9)],
    leaveOneDriveOut: [expect.closeTo(1 / 6), 0.5],
    pooled: { mean: expect.closeTo(0.4, 1), interval: [expect.any(Number), expect.any(Number)] },
  });
  expect(both).toEqual({ ...travelled, romTravels: null });
  expect(not).toMatchObject({ romTravels: false, pairs: 0, works: 0, exact: [0, 1], leaveOneDriveOut: null });
});

describe('cannot run', () => {
  const files = manyPairs(apart(1, 2), config);
  const refused = (...args: string[]): string => swaplore(files, ['odds', ...args]);

  it('with a family that is not recorded', () => {
    expect(refused('--family', 'tern-3')).toMatchInlineSnapshot(`
      "! swaplore: Family \`tern-3\` is not recorded in this base; the nearest is \`tern-2\`.
      exit 2"
    `);
  });

  it('with a condition that no rule could have', () => {
    expect(refused('--given', '{rom_travls: true}')).toMatchInlineSnapshot(`
      "! swaplore: --given: The condition has the key \`rom_travls\`, which is not known; the nearest is \`rom_travels\`.
      ! Rename it to \`rom_travels\`, or to \`x-rom_travls\` for the shop's own use.
      exit 2"
    `);
    expect(refused('--given', '{same: [rve]}')).toMatchInlineSnapshot(`
      "! swaplore: --given: \`same\` cannot be \`rve\`; the nearest is \`rev\`.
      ! Replace it with \`rev\`.
      exit 2"
    `);
    expect(refused('--given', '{donor: {family: tern-3}}')).toMatchInlineSnapshot(`
      "! swaplore: --given: Family \`tern-3\` is not recorded in this base; the nearest is \`tern-2\`.
      ! Use \`tern-2\`, or record the family.
      exit 2"
    `);
    expect(refused('--given', '{same: [rev]')).toMatchInlineSnapshot(`
      "! swaplore: --given: This line is not indented far enough for the list, map or text it belongs to, or a bracket above it was never closed.
      exit 2"
    `);
    expect(refused('--given', 'rom_travels: true')).toMatchInlineSnapshot(`
      "! swaplore: --given: A condition in YAML flow form is needed.
      ! Such as --given '{rom_travels: true, same: [rev]}'.
      exit 2"
    `);
  });
});
