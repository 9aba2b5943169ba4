import { expect, it } from 'vitest';
import { folderOf, runCommand, swaplore } from '../harness/run-cli.ts';

/** A family with sound spares, of which two were tried, and one drive whose data somebody wants. */
const bench = {
  'swaplore.yaml': 'swaplore: 1\n',
  'makers.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'families.yaml': ['tern-2', 'gull']
    .map((id) => `kind: family\nid: ${id}\nmaker: wren\nname: ${id}\nadaptives: {stored_in: platters}\n`)
    .join('---\n'),
  'board.yaml':
    'kind: board\nid: k-10\nmaker: wren\npart_number: "10"\nfamilies: [tern-2]\nrevisions: [{rev: A}, {rev: B}]\n',
  'drives.yaml': [
    drive('d-1', 'F1', 'X', 'none'),
    drive('d-2', 'F1', 'X', 'test'),
    drive('d-3', 'F2', 'Y', 'none'),
    drive('d-4', 'F2', 'X', 'none'),
    drive('d-5', 'F1', 'Y', 'wanted'),
  ].join('---\n'),
  'outcomes.yaml': [outcome('o-1', 'd-1', 'd-2', 'reads'), outcome('o-2', 'd-1', 'd-3', 'spins')].join('---\n'),
};

function drive(id: string, firmware: string, site: string, data: string): string {
  return `kind: drive\nid: ${id}\nfamily: tern-2\nfirmware: ${firmware}\nsite: ${site}\nboard: {id: k-10, rev: A}\ncondition: {board: good, media: good, as_of: 2026-03-20}\ndata: ${data}\nshelf: {spare: true}\n`;
}

function outcome(id: string, patient: string, donor: string, reached: string): string {
  return `kind: outcome\nid: ${id}\ndate: 2026-03-14\npatient: ${patient}\ndonor: ${donor}\nrom: left\ncontrols: {patient_on_own_board: works, donor_on_own_board: works, swapped_back: both_work}\nreached: ${reached}\nresult: ${reached === 'reads' ? 'works' : 'fails'}\n`;
}

it('says which swap would tell most, what each result would rule out, and what the shelf cannot tell', () => {
  expect(swaplore(bench, ['plan', 'tern-2'])).toMatchInlineSnapshot(`
    "The next trial: tern-2
    ======================

    2 outcomes of 2 pairs are decided at \`reads\`: 1 worked, 1 failed.

    What may explain them, with how far to believe each. Whatever a swap of the
    shelf would tell apart counts by itself here, so that the figures may differ
    from those of all explanations so far.

    A: Works where \`same: [firmware]\`, 38 %

    B: Works where \`same: [site]\`, 9 %

    Others, of which none stands out: 3 % together

    None of these, 50 %

    The swaps that would tell most:

    \`d-1\` with the board of \`d-4\` (\`rom: left\`)
      Tells much (0.3 bit, where 1 is the most a result can tell). Works with a
      chance of 37 %. 3 other swaps on the shelf would tell the same.
      If it works: as good as out: A (38 → 5 %); more likely: B (9 → 24 %), none of
      these (50 → 67 %).
      If it fails: as good as out: B (9 → 0.8 %); more likely: A (38 → 57 %).

    \`d-3\` with the board of \`d-4\` (\`rom: left\`)
      Tells much (0.3 bit, where 1 is the most a result can tell). Works with a
      chance of 63 %. 1 other swap on the shelf would tell the same.
      If it works: as good as out: B (9 → 0.8 %); more likely: A (38 → 57 %).
      If it fails: as good as out: A (38 → 5 %); more likely: B (9 → 24 %), none of
      these (50 → 67 %).

    \`d-2\` with the board of \`d-3\` (\`rom: left\`)
      Tells much (0.2 bit, where 1 is the most a result can tell). Works with a
      chance of 28 %. 1 other swap on the shelf would tell the same.
      If it works: as good as out: A (38 → 7 %), B (9 → 2 %); more likely: none of
      these (50 → 90 %).
      If it fails: more likely: A (38 → 49 %), B (9 → 12 %).

    A trial may cost both drives: a ROM of another drive may write to the service
    area. Keep images of both ROMs first, and stop at any clicking or grinding.
    Drives are listed only if they are spare, hold test data or none, and are
    recorded as good.

    Run both drives on their own boards first and again after swapping back, and
    record it under \`controls\`: without that a failure proves nothing.

    Fit for trials: 4 drives of the family. Left out: \`d-5\` (data wanted, or not
    known to be test data or none).
    exit 0"
  `);
});

it('says what could be tried first where nothing is decided, and why nothing can be where the shelf is bare', () => {
  const { 'outcomes.yaml': _outcomes, ...untried } = bench;
  expect(swaplore(untried, ['plan', 'tern-2'])).toMatchInlineSnapshot(`
    "The next trial: tern-2
    ======================

    No outcome is decided at \`reads\`.

    A first result tells nothing yet: there is none to set it against. Begin with
    the closest match.

    \`d-1\` with the board of \`d-2\` (\`rom: left\`)
      1 other swap on the shelf would tell the same.

    A trial may cost both drives: a ROM of another drive may write to the service
    area. Keep images of both ROMs first, and stop at any clicking or grinding.
    Drives are listed only if they are spare, hold test data or none, and are
    recorded as good.

    Run both drives on their own boards first and again after swapping back, and
    record it under \`controls\`: without that a failure proves nothing.

    Fit for trials: 4 drives of the family. Left out: \`d-5\` (data wanted, or not
    known to be test data or none).
    exit 0"
  `);
  expect(swaplore(bench, ['plan', 'gull'])).toMatchInlineSnapshot(`
    "The next trial: gull
    ====================

    No outcome is decided at \`reads\`.

    Nothing can be tried: a trial takes a drive of family \`gull\` and another that
    are fit for it, and the shelf does not have both.

    Fit for trials: no drive of the family.
    exit 0"
  `);
});

it('tells programs the same', () => {
  const { stdout } = runCommand(folderOf(bench), ['plan', 'tern-2', '--json']);
  // Digits that the last bit of a logarithm may change are no part of what is promised.
  const plan = JSON.parse(stdout, (_, value) => (typeof value === 'number' ? Number(value.toFixed(6)) : value));
  const { trials, explanations } = plan;
  expect({ ...plan, trials: trials.length, explanations: explanations.length }).toMatchInlineSnapshot(`
    {
      "decided": {
        "failed": 1,
        "inconclusive": 0,
        "outcomes": 2,
        "pairs": 2,
        "worked": 1,
      },
      "explanations": 6,
      "family": "tern-2",
      "isCut": false,
      "noneOfThese": 0.503036,
      "shelf": {
        "donors": 4,
        "leftOut": {
          "data": [
            "d-5",
          ],
        },
        "patients": 4,
      },
      "trials": 3,
      "untold": [],
      "worksAt": "reads",
    }
  `);
  const [first] = trials;
  expect({ ...first, ifWorks: null, ifFails: null }).toMatchInlineSnapshot(`
    {
      "donor": "d-4",
      "ifFails": null,
      "ifWorks": null,
      "information": 0.301052,
      "patient": "d-1",
      "rom": [
        "left",
      ],
      "romTravels": true,
      "swaps": 4,
      "works": 0.373547,
    }
  `);
  const sum = (weights: readonly number[]) => weights.reduce((total, weight) => total + weight, 0);
  for (const { noneOfThese, explanations: weights } of [first.ifWorks, first.ifFails]) {
    expect(noneOfThese + sum(weights)).toBeCloseTo(1, 4);
  }
});

it('refuses a family that is not recorded', () => {
  const { code, stderr } = runCommand(folderOf(bench), ['plan', 'tern']);
  expect([code, stderr]).toMatchInlineSnapshot(`
    [
      2,
      "swaplore: Family \`tern\` is not recorded in this base.
    ",
    ]
  `);
});
