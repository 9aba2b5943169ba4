import { expect, it } from 'vitest';
import { manyPairs } from '../harness/many-pairs.ts';
import { folderOf, runCommand, swaplore } from '../harness/run-cli.ts';

/** Pairs of which those whose ROM was moved worked, with another family nothing was tried on. */
function bench(moved: number, left: number): Record<string, string> {
  const pairs = Array.from({ length: moved + left }, (_, n) => ({
    ...{ patient: `p-${n}`, donor: `q-${n}`, works: n < moved },
  }));
  const families = ['tern-2', 'gull'].map(
    (id) => `kind: family\nid: ${id}\nmaker: wren\nname: ${id}\nadaptives: {stored_in: rom_chip}\n`,
  );
  const files = manyPairs(pairs, { 'families/tern.yaml': families.join('---\n') });
  const outcomes = files['outcomes.yaml']!.replace(/rom: left(?=\n[^-]*result: works)/g, 'rom: chip_moved');
  const drives = files['drives.yaml']!.replace(/id: ([pq])-(\d)\n/g, (id, side, digits) => {
    const [isPatient, n] = [side === 'p', Number(digits)];
    const firmware = isPatient || n < moved || n === moved + left - 1 ? 'F1' : 'F2';
    return `${id}firmware: ${firmware}\npart_number: ${isPatient || n < moved ? 'P1' : 'P2'}\n`;
  });
  return { ...files, 'swaplore.yaml': 'swaplore: 1\n', 'outcomes.yaml': outcomes, 'drives.yaml': drives };
}

it('says in plain words what divides the outcomes of a family', () => {
  expect(swaplore(bench(5, 4), ['explain', 'tern-2'])).toMatchInlineSnapshot(`
    "Explanations: tern-2
    ====================

    9 outcomes of 9 pairs are decided at \`reads\`: 5 worked, 4 failed.

    Most likely it works where \`rom_travels: true\`, or what cannot be told apart
    from it (94 %).

    Works where \`rom_travels: true\`: 94 %
      All 5 pairs with it worked, none of the 4 pairs without it worked. By chance
      alone pairs would come out this cleanly once in 126.
      The data cannot tell it apart from: works where \`same: [part_number]\`.
      No outcome speaks against it.

    Works where \`same: [firmware]\`: 5 %
      5 of 6 pairs with it worked, none of the 3 pairs without it worked. By chance
      alone pairs would come out at least this clearly once in 21. Among 3
      conditions, so few pairs cannot tell it from chance.
      Against it: \`o-9\`.

    1 other condition: 0.007 % together

    None of these: 0.6 %
      Something nobody recorded, or luck: 5 of 9 outcomes worked, whatever the
      condition.

    The percentages say how far to believe each, and come to 100 together. Before
    any swap, half goes to none of these; in the other half, conditions of one more
    entry get a quarter as much together (a value that is named counts as two), and
    one swap in twenty may come out wrong all the same. With the ROM moved along,
    heads, preamp and site only stand for a kind of board, and get a quarter. What
    fits need not be the cause: swaps that would tell two conditions apart show
    which it is.

    Looked at: 3 ways to divide these outcomes, made of 2 entries (all of them also
    in twos). Candidates are \`rom_travels\`, \`same\` and \`different\` of every key that
    is compared, and values of what a board carries; dates, hours and other values
    are not.
    exit 0"
  `);
});

// Source: of nine pairs, five can be chosen in 9! / (5! 4!) ways.
const p126 = expect.closeTo(1 / 126, 12);

it('gives the same as data', () => {
  const { stdout, stderr, code } = runCommand(folderOf(bench(5, 4)), ['explain', 'tern-2', '--json']);
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
  const { hypotheses, noneOfThese, others, ...rest } = JSON.parse(stdout);
  expect(rest).toMatchInlineSnapshot(`
    {
      "decided": {
        "failed": 4,
        "inconclusive": 0,
        "outcomes": 9,
        "pairs": 9,
        "worked": 5,
      },
      "family": "tern-2",
      "lookedAt": {
        "couldReach": 1,
        "entries": 2,
        "hypotheses": 3,
        "inThrees": 0,
        "inTwos": 2,
      },
      "worksAt": "reads",
    }
  `);
  expect(hypotheses[0]).toEqual({
    ...{ condition: { rom_travels: true }, holds: 'works' },
    equals: [{ condition: { same: ['part_number'] }, holds: 'works' }],
    ...{ weight: expect.any(Number), separates: true },
    apart: { withWorked: 5, withFailed: 0, withoutWorked: 0, withoutFailed: 4 },
    within: { onlyWith: 0, onlyWithout: 0, alike: 0 },
    test: { of: 'apart', p: p126, least: p126, adjusted: p126 },
    ...{ against: [], notKnown: [], mixed: [] },
  });
  const weights = hypotheses.map(({ weight }: { weight: number }) => weight);
  expect(weights.reduce((sum: number, one: number) => sum + one, noneOfThese + others.weight)).toBeCloseTo(1, 9);
});

it('says where there is nothing to explain', () => {
  expect(swaplore(bench(2, 0), ['explain', 'tern-2'])).toMatchInlineSnapshot(`
    "Explanations: tern-2
    ====================

    2 outcomes of 2 pairs are decided at \`reads\`: 2 worked, 0 failed.

    There is nothing to tell apart until one has worked and one has failed.
    exit 0"
  `);
  expect(swaplore(bench(2, 0), ['explain', 'gull'])).toMatchInlineSnapshot(`
    "Explanations: gull
    ==================

    No outcome is decided at \`reads\`.

    There is nothing to tell apart until one has worked and one has failed.
    exit 0"
  `);
});

it('refuses a family that is not recorded', () => {
  expect(swaplore(bench(1, 1), ['explain', 'tern-3'])).toMatchInlineSnapshot(`
    "! swaplore: Family \`tern-3\` is not recorded in this base; the nearest is \`tern-2\`.
    exit 2"
  `);
});
