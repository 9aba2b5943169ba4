import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { folderOf, runCommand, swaplore } from '../harness/run-cli.ts';

const spare = 'condition: {board: good}\nshelf: {place: B2, spare: true}\n';

function drive(id: string, rev: string, more = spare): string {
  return `kind: drive\nid: ${id}\nfamily: tern-2\nboard: {id: k-10, rev: ${rev}}\n${more}`;
}

function outcome(id: string, [patient, donor]: readonly [string, string], more: string): string {
  return `kind: outcome\nid: ${id}\ndate: 2026-03-14\npatient: ${patient}\ndonor: ${donor}\nrom: chip_moved\n${more}`;
}

/** A patient whose data is wanted, and a shelf with boards of every kind. */
const shelf = {
  'swaplore.yaml': 'swaplore: 1\nname: Harbour Street bench\n',
  'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'families/tern.yaml': `kind: family
id: tern-2
maker: wren
name: Tern 2
encryption: none
adaptives: {stored_in: rom_chip}
host_needs: [onboard_port]
`,
  'boards/k.yaml': `kind: board
id: k-10
maker: wren
part_number: K-10
families: [tern-2]
revisions:
  - {rev: A, controller: KR1, roms: [{package: soic8_208mil, volts: 3.3, holds: [adaptives]}]}
  - {rev: B, controller: KR1, drop_in_for: [A], roms: [{package: wson8_6x5, volts: 1.8, holds: [adaptives]}]}
  - {rev: C, controller: KR2}
  - {rev: D, controller: [KR1, KR2], drop_in_for: [C]}
`,
  'drives/patient.yaml': drive(
    'd-1',
    'A',
    'examined: [{on: 2026-03-01, supply_5v: ok, motor_windings: ok, head_lines: ok, parts_burnt: true}]\ncondition: {board: faulty}\ndata: wanted\n',
  ),
  'drives/shelf.yaml': [
    drive('d-2', 'A'),
    drive('d-3', 'B'),
    drive('d-4', 'C'),
    drive('d-5', 'D'),
    drive('d-6', 'A', 'parts: board_only\n'),
    drive('d-7', 'A', 'condition: {board: faulty}\nshelf: {spare: true}\n'),
    drive('d-8', 'A', 'condition: {board: good}\nshelf: {spare: false}\n'),
  ].join('---\n'),
  'rules/tern.yaml': `kind: rule
id: tern-controller
claim: needs
when: {same: [controller]}
stage: ready
exceptions: [{outcome: o-2, because: The controller was moved by hand.}]
---
kind: rule
id: tern-fitting
claim: enough
when: {rom_travels: true, revision: drop_in}
---
kind: rule
id: tern-whole
claim: prevents
when: {donor: {rev: k-10/A}}
stage: verified
`,
  'outcomes/one.yaml': [
    outcome('o-1', ['d-8', 'd-2'], 'controls: {swapped_back: not_done}\nreached: reads\nresult: works\n'),
    outcome('o-2', ['d-1', 'd-4'], 'controls: {swapped_back: both_work}\nreached: reads\nresult: works\n'),
  ].join('---\n'),
};

it('says what the examination means, what has to travel, and which boards fit, are open or are excluded', () => {
  expect(swaplore(shelf, ['donors', 'd-1'])).toMatchInlineSnapshot(`
    "Donors for d-1: Harbour Street bench
    ====================================

    Patient \`d-1\`: family \`tern-2\`, board \`k-10/A\`. Boards on the shelf: 3 fit, 1
    open, 1 excluded.

    If the data on \`d-1\` matters to anyone, stop and hand the drive to a
    professional recovery lab: every attempt can lower the chance. Never open the
    head-disk assembly outside a clean bench.

    Examination

    Windings and head lines are good, so a board may be tried.

    Examined 2026-03-01: 5 V line \`ok\`, motor windings \`ok\`, head lines \`ok\`, burnt
    parts \`true\`.

    What has to travel

    Adaptives: in the ROM chip. Move the patient's chip to the donor's board, or
    write its image to the donor's chip. What follows takes it that this is done:
    \`rom: [chip_moved]\`.

    Encryption: none, so no key has to travel. Its ROM: \`soic8_208mil\`, 3.3 V. No
    image of its ROM is recorded. The host has to meet \`onboard_port\`.

    A board that carries another drive's adaptives may write to the service area.
    Where the data is wanted, never try the donor's board with its own ROM first.

    Read the ROM twice and compare before writing anything, check its supply voltage
    (1.8 V or 3.3 V) before clipping on, and keep the original chip and both images.

    Fits: a law says it works, and none is against it

    Rule \`tern-fitting\` says \`rom_travels: true, revision: drop_in\` is enough to
    reach \`reads\` (1 outcome for it, 0 against).

    Rule \`tern-whole\` says \`donor: {rev: k-10/A}\` prevents it from reaching
    \`verified\` (0 outcomes for it, 0 against).

    d-2: \`k-10/A\`, B2
      Look first: outcome \`o-1\` says that its board was put on patient \`d-8\` and not
      swapped back.
      By rule \`tern-fitting\` it works.
      It will not come as far as \`verified\`. Against rule \`tern-whole\`: \`rev\` is
      \`k-10/A\` on donor \`d-2\`.
      No swap like it is counted yet; 50 % is to be expected, likely between 0 % and
      100 %.
      5 of 5 keys that both record match.

    d-6: loose board, \`k-10/A\`
      By rule \`tern-fitting\` it works.
      It will not come as far as \`verified\`. Against rule \`tern-whole\`: \`rev\` is
      \`k-10/A\` on donor \`d-6\`.
      No swap like it is counted yet; 50 % is to be expected, likely between 0 % and
      100 %.
      5 of 5 keys that both record match.
      A loose board: no drive of its own shows that it works.

    d-3: \`k-10/B\`, B2
      By rule \`tern-fitting\` it works.
      No swap like it is counted yet; 50 % is to be expected, likely between 0 % and
      100 %.
      3 of 5 keys that both record match; not \`rev\` and \`rom_package\`.
      ROM of this board: \`wson8_6x5\`, 1.8 V. Compare before anything is soldered or
      clipped on.

    Open: no law is against it

    d-5: \`k-10/D\`, B2
      Still to inspect: \`controller\` of drive/d-5. It may decide by rule
      \`tern-controller\`.
      No swap like it is counted yet; 50 % is to be expected, likely between 0 % and
      100 %.
      2 of 3 keys that both record match; not \`rev\`.
      ROM of this board: not recorded. Compare before anything is soldered or
      clipped on.

    Excluded: a law is against it

    Rule \`tern-controller\` says a swap needs \`same: [controller]\` to reach \`ready\`
    (1 outcome for it, 0 against).

    d-4: \`k-10/C\`, B2
      Against rule \`tern-controller\`: \`controller\` is \`KR1\` (by board \`k-10\`) on
      patient \`d-1\` and \`KR2\` (by board \`k-10\`) on donor \`d-4\`.
      Yet \`o-2\` is an exception of that rule: The controller was moved by hand.
      No swap like it is counted yet; 50 % is to be expected, likely between 0 % and
      100 %.
      2 of 4 keys that both record match.
      Tried in \`o-2\`: reached \`reads\`, works.
    exit 0"
  `);
});

it('ranks nothing before windings and head lines are known to be good', () => {
  const unmeasured = drive(
    'd-1',
    'A',
    'examined: [{on: 2026-03-01, supply_12v: shorted, motor_windings: ok, head_lines: shorted}]\ndata: test\n',
  );
  expect(swaplore({ ...shelf, 'drives/patient.yaml': unmeasured }, ['donors', 'd-1'])).toMatchInlineSnapshot(`
    "Donors for d-1: Harbour Street bench
    ====================================

    Patient \`d-1\`: family \`tern-2\`, board \`k-10/A\`.

    The board of \`d-1\` is burnt or a line is shorted, and windings or head lines are
    not known to be good. Measure first: a shorted preamp or motor winding kills the
    next board too.

    Examination

    No board is ranked until windings and head lines are known to be good.

    Head lines are shorted: no board cures that, and the next one may die of it.

    Examined 2026-03-01: 12 V line \`shorted\`, motor windings \`ok\`, head lines
    \`shorted\`.

    What has to travel

    Adaptives: in the ROM chip. Move the patient's chip to the donor's board, or
    write its image to the donor's chip. What follows takes it that this is done:
    \`rom: [chip_moved]\`.

    Encryption: none, so no key has to travel. Its ROM: \`soic8_208mil\`, 3.3 V. No
    image of its ROM is recorded. The host has to meet \`onboard_port\`.

    Read the ROM twice and compare before writing anything, check its supply voltage
    (1.8 V or 3.3 V) before clipping on, and keep the original chip and both images.
    exit 0"
  `);
});

it('knows a shorted supply line from a burnt board, and a noise from a dead one', () => {
  const noisy = {
    ...shelf,
    'drives/patient.yaml': drive(
      'd-1',
      'A',
      'examined: [{on: 2026-03-01, supply_5v: shorted, motor_windings: ok, head_lines: ok, parts_burnt: false}]\ncondition: {board: good}\n',
    ),
    'drives/shelf.yaml': drive('d-2', 'A'),
    'outcomes/one.yaml': outcome(
      'o-1',
      ['d-1', 'd-2'],
      'controls: {donor_on_own_board: works}\nobserved: {sound: clicking}\nreached: spins\nresult: inconclusive\n',
    ),
  };
  const { stdout } = runCommand(folderOf(noisy), ['donors', 'd-1']);
  const [, examination = ''] = stdout.split(/\nExamination\n|\nWhat has to travel\n/);
  expect(examination).toMatchInlineSnapshot(`
    "
    A supply line is shorted and nothing else is known to be wrong, so the
    protection diode may be all. Lifting it costs less than a swap, and leaves the
    drive unprotected.

    Outcome \`o-1\` says that it was clicking: that points at heads, media or motor. A
    board does not cure it, and every powered second can make it worse.

    Its own board is recorded as good, so it may need no other.

    Examined 2026-03-01: 5 V line \`shorted\`, motor windings \`ok\`, head lines \`ok\`,
    burnt parts \`false\`.
    "
  `);
});

it('says where nothing was measured, and where it is not known what has to travel', () => {
  const bare = {
    ...shelf,
    'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nencryption: always\nkey_in: bridge\n',
    'drives/patient.yaml': 'kind: drive\nid: d-1\nfamily: tern-2\n',
    'drives/shelf.yaml': 'kind: drive\nid: d-2\nfamily: tern-2\nshelf: {spare: true}\n',
    'outcomes/one.yaml': outcome(
      'o-1',
      ['d-2', 'd-1'],
      'controls: {swapped_back: donor_fails}\nreached: spins\nresult: inconclusive\n',
    ).replace('rom: chip_moved\n', ''),
  };
  expect(swaplore(bare, ['donors', 'd-1'])).toMatchInlineSnapshot(`
    "Donors for d-1: Harbour Street bench
    ====================================

    Patient \`d-1\`: family \`tern-2\`, board not recorded. Boards on the shelf: 0 fit,
    1 open, 0 excluded.

    If the data on \`d-1\` matters to anyone, stop and hand the drive to a
    professional recovery lab: every attempt can lower the chance. Never open the
    head-disk assembly outside a clean bench.

    Examination

    No examination is recorded. Before power, measure supply lines, motor windings
    and head lines.

    What has to travel

    Where family \`tern-2\` keeps its adaptives is not recorded, so what has to travel
    is not known.

    The data is encrypted. The key sits in the bridge: without that very part all
    that is read is noise.

    A board that carries another drive's adaptives may write to the service area.
    Where the data is wanted, never try the donor's board with its own ROM first.

    Read the ROM twice and compare before writing anything, check its supply voltage
    (1.8 V or 3.3 V) before clipping on, and keep the original chip and both images.

    Open: no law is against it

    d-2: board not recorded
      Still to inspect: \`board\`, \`controller\` and \`rev\` of drive/d-1; \`board\`,
      \`controller\` and \`rev\` of drive/d-2; \`adaptives.stored_in\` of family/tern-2.
      It may decide by rules \`tern-controller\` and \`tern-fitting\`.
      No swap like it is counted yet; 50 % is to be expected, likely between 0 % and
      100 %.
      1 of 1 keys that both record match.
      Not recorded as good: try it on its own drive first.
      Tried in \`o-1\`, the other way round: reached \`spins\`, inconclusive.
    exit 0"
  `);
});

describe('long shelves', () => {
  const many = {
    ...shelf,
    'drives/shelf.yaml': Array.from({ length: 7 }, (_, n) => drive(`d-1${n}`, 'B')).join('---\n'),
    'outcomes/one.yaml': outcome('o-1', ['d-1', 'd-10'], 'reached: reads\nresult: works\n'),
  };

  it('are cut to the first of each group', () => {
    const { stdout } = runCommand(folderOf(many), ['donors', 'd-1']);
    expect(stdout.match(/^d-1\d/gm)).toEqual(['d-10', 'd-11', 'd-12', 'd-13', 'd-14']);
    expect(stdout).toContain('\n2 more; `swaplore donors d-1 --all` lists all.\n');
  });

  it('are listed whole with --all', () => {
    const { stdout } = runCommand(folderOf(many), ['donors', 'd-1', '--all']);
    expect(stdout.match(/^d-1\d/gm)).toHaveLength(7);
    expect(stdout).not.toContain('--all');
  });
});

it('gives everything as data', () => {
  const { stdout, code } = runCommand(folderOf(shelf), ['donors', 'd-1', '--json']);
  expect(code).toBe(0);
  const { fits, open, excluded, ...about } = JSON.parse(stdout);
  expect(about).toMatchInlineSnapshot(`
    {
      "examination": {
        "holdsUserData": false,
        "inside": [],
        "mayBeDiode": false,
        "measureFirst": false,
        "ownBoardGood": false,
        "readings": {
          "head_lines": {
            "on": "2026-03-01",
            "value": "ok",
          },
          "motor_windings": {
            "on": "2026-03-01",
            "value": "ok",
          },
          "parts_burnt": {
            "on": "2026-03-01",
            "value": true,
          },
          "supply_5v": {
            "on": "2026-03-01",
            "value": "ok",
          },
        },
      },
      "family": "tern-2",
      "hostNeeds": [
        "onboard_port",
      ],
      "patient": "d-1",
      "travels": {
        "adaptives": "rom_chip",
        "key": null,
        "rom": [
          "chip_moved",
        ],
        "romTravels": true,
      },
    }
  `);
  expect([fits, open, excluded].map((group) => group.map(({ id }: { id: string }) => id))).toMatchInlineSnapshot(`
    [
      [
        "d-2",
        "d-6",
        "d-3",
      ],
      [
        "d-5",
      ],
      [
        "d-4",
      ],
    ]
  `);
  expect(excluded[0]).toMatchInlineSnapshot(`
    {
      "against": [
        {
          "because": [
            "\`controller\` is \`KR1\` (by board \`k-10\`) on patient \`d-1\` and \`KR2\` (by board \`k-10\`) on donor \`d-4\`",
          ],
          "rule": "tern-controller",
        },
      ],
      "board": "k-10",
      "chip": null,
      "differing": [
        "rev",
        "controller",
      ],
      "doubt": null,
      "family": "tern-2",
      "hostNeeds": [
        "onboard_port",
      ],
      "id": "d-4",
      "inspect": [],
      "matching": [
        "family",
        "board",
      ],
      "odds": {
        "exact": [
          0,
          1,
        ],
        "given": {
          "none": [
            {
              "same": [
                "controller",
              ],
            },
            {
              "revision": "drop_in",
              "rom_travels": true,
            },
            {
              "donor": {
                "rev": "k-10/A",
              },
            },
          ],
        },
        "pairs": 0,
        "pooled": {
          "interval": [
            1.3693432029717977e-9,
            0.9999999986306568,
          ],
          "mean": 0.5,
        },
        "works": 0,
      },
      "parts": "both",
      "promises": [],
      "rev": "C",
      "shortOf": [],
      "tried": [
        {
          "outcome": "o-2",
          "reached": "reads",
          "result": "works",
          "reversed": false,
        },
      ],
      "undecided": [],
    }
  `);
  const [given] = open.map(({ odds }: { odds: { given: unknown } }) => JSON.stringify(odds.given));
  const asked = runCommand(folderOf(shelf), ['odds', '--family', 'tern-2', '--given', given, '--json']);
  const row = JSON.parse(asked.stdout).find(({ romTravels }: { romTravels: unknown }) => romTravels === true);
  expect(row.pooled).toEqual(open[0].odds.pooled);
});

it('asks for a drive that is recorded', () => {
  expect(swaplore(shelf, ['donors', 'd-01'])).toMatchInlineSnapshot(`
    "! swaplore: Drive \`d-01\` is not recorded in this base; the nearest is \`d-1\`.
    exit 2"
  `);
  expect(swaplore(shelf, ['donors'])).toMatchInlineSnapshot(`
    "! swaplore: donors needs PATIENT.
    ! swaplore donors --help lists the options.
    exit 2"
  `);
});

it('writes the sheet as a page, over no other file', () => {
  const folder = folderOf(shelf);
  const { stdout, code } = runCommand(folder, ['donors', 'd-1', '--out', 'sheet.html']);
  expect(code).toBe(0);
  expect(stdout).toContain('\nWritten to sheet.html\n');
  expect(readFileSync(join(folder, 'sheet.html'), 'utf8')).toContain('<h1>Donors for d-1: ');
  writeFileSync(join(folder, 'mine.html'), 'mine');
  const refused = runCommand(folder, ['donors', 'd-1', '--out', 'mine.html']);
  expect(refused.code).toBe(2);
  expect(readFileSync(join(folder, 'mine.html'), 'utf8')).toBe('mine');
});
