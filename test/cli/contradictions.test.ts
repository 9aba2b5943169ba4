import { describe, expect, it } from 'vitest';
import { chain, chainFiles } from '../harness/chain-base.ts';
import { folderOf, runCommand, swaplore } from '../harness/run-cli.ts';
import { outcome, ternBench } from '../harness/tern-bench.ts';

/** One outcome that breaks the rule, and one that would, had the rule no exception for it. */
const contradicted = {
  ...ternBench,
  'rules/tern.yaml': `${ternBench['rules/tern.yaml']}exceptions: [{outcome: excused, because: The donor was its twin.}]\n`,
  'outcomes/left.yaml': outcome('left', 'left'),
  'outcomes/excused.yaml': outcome('excused', 'left'),
};

it('quotes what is broken and counts how outcomes stand to each rule', () => {
  expect(swaplore(contradicted, ['contradictions'])).toMatchInlineSnapshot(`
    "Outcomes against rules: Harbour Street bench
    ============================================

    Broken rules

    error: outcome/left (outcomes/left.yaml)
      Outcome \`left\` reached \`reads\`, but rule \`tern-rom-travels\` says that needs
      \`rom_travels: true\`: the ROM was \`left\` (this family keeps its adaptives in
      \`rom_chip\`).
      Check the bench notes; correct the record, or give the rule an exception with
      its reason.

    Rules

    rule              support  against  undecided  excepted
    tern-rom-travels        1        1          0         1

    Support and against count outcomes that decide the claim. Undecided: a control,
    a value or the scope is not known. Excepted: set aside by the rule itself.
    Outcomes the claim says nothing about are not counted.
    exit 1"
  `);
});

it('gives the same as data', () => {
  const { stdout, stderr, code } = runCommand(folderOf(contradicted), ['contradictions', '--json']);
  expect({ stderr, code }).toEqual({ stderr: '', code: 1 });
  expect(JSON.parse(stdout)).toEqual({
    rules: [{ id: 'tern-rom-travels', support: 1, against: 1, undecided: 0, excepted: 1 }],
    broken: [{ rule: 'tern-rom-travels', outcome: 'left' }],
    conflicts: [],
    implied: [],
    impossible: [],
    joint: [],
    forced: [],
  });
});

/** Rules that get in each other's way: what is enough leaves out the pads, and a drop-in may have others. */
const conflicting = {
  ...ternBench,
  'boards/tern.yaml': `kind: board
id: wr-1
maker: wren
part_number: WR 1
families: [tern-2]
revisions:
  - {rev: A, contact_pads: 18}
  - {rev: B, contact_pads: 20, drop_in_for: [A]}
`,
  'rules/more.yaml': `kind: rule
id: tern-drop-in
applies_to: {families: [tern-2]}
claim: enough
when: {revision: drop_in, rom_travels: true}
basis: measured
---
kind: rule
id: tern-pads
applies_to: {families: [tern-2]}
claim: needs
when: {same: [contact_pads]}
stage: ready
basis: measured
---
kind: rule
id: tern-pads-and-heads
applies_to: {families: [tern-2]}
claim: needs
when: {same: [contact_pads, heads], different: [heads]}
`,
};

it('shows rules that cannot both hold with a swap, and rules that say nothing', () => {
  expect(swaplore(conflicting, ['contradictions'])).toMatchInlineSnapshot(`
    "Outcomes against rules: Harbour Street bench
    ============================================

    No recorded outcome breaks a rule.

    Rules that cannot both hold

    error: rule/tern-pads (rules/more.yaml)
      Rules \`tern-drop-in\` and \`tern-pads\` cannot both hold: of a swap with family
      \`tern-2\`, \`rev\` \`wr-1/A\` on the patient and \`wr-1/B\` on the donor, the donor's
      revision a drop-in for the patient's and \`rom\` \`chip_moved\`, the one says that
      it works at \`reads\`, the other that it cannot work at \`ready\`.
      Narrow one of them until it says nothing of such a swap, or make it a rate
      with \`at_least\`.

    Rules that rule out nothing, or everything

    warning: rule/tern-pads-and-heads (rules/more.yaml)
      Rule \`tern-pads-and-heads\` would let nothing work: no swap in its scope can
      meet \`same: [contact_pads], same: [heads], different: [heads]\`.

    What follows for values that are not recorded

    drive/d-0117 and drive/d-0118 have the same \`contact_pads\`
      From rule \`tern-pads\` and outcome \`moved\`.

    Rules

    rule                 support  against  undecided  excepted
    tern-drop-in               0        0          1         0
    tern-pads                  0        0          1         0
    tern-pads-and-heads        0        0          1         0
    tern-rom-travels           1        0          0         0

    Support and against count outcomes that decide the claim. Undecided: a control,
    a value or the scope is not known. Excepted: set aside by the rule itself.
    Outcomes the claim says nothing about are not counted.
    exit 1"
  `);
});

it('gives the swap as data', () => {
  const { stdout } = runCommand(folderOf(conflicting), ['contradictions', '--json']);
  const { conflicts, implied, impossible } = JSON.parse(stdout);
  expect({ conflicts, implied, impossible }).toMatchInlineSnapshot(`
    {
      "conflicts": [
        {
          "rules": [
            "tern-drop-in",
            "tern-pads",
          ],
          "witness": {
            "donor": {
              "rev": "wr-1/B",
            },
            "dropIn": true,
            "family": "tern-2",
            "patient": {
              "rev": "wr-1/A",
            },
            "rom": "chip_moved",
          },
        },
      ],
      "implied": [],
      "impossible": [
        "tern-pads-and-heads",
      ],
    }
  `);
});

it('is content where nothing is broken', () => {
  expect(swaplore(ternBench, ['contradictions'])).toMatchInlineSnapshot(`
    "Outcomes against rules: Harbour Street bench
    ============================================

    No recorded outcome breaks a rule.

    Rules

    rule              support  against  undecided  excepted
    tern-rom-travels        1        0          0         0

    Support and against count outcomes that decide the claim. Undecided: a control,
    a value or the scope is not known. Excepted: set aside by the rule itself.
    Outcomes the claim says nothing about are not counted.
    exit 0"
  `);
});

it('says so where there is no rule', () => {
  const { 'rules/tern.yaml': _, ...ruleless } = ternBench;
  expect(swaplore(ruleless, ['contradictions'])).toMatchInlineSnapshot(`
    "Outcomes against rules: Harbour Street bench
    ============================================

    No rule of this base can be applied.
    exit 0"
  `);
});

it('does not fail on a rule that was not measured', () => {
  const files = {
    ...contradicted,
    'rules/tern.yaml': contradicted['rules/tern.yaml'].replace('basis: measured\n', ''),
  };
  const { stdout, code } = runCommand(folderOf(files), ['contradictions']);
  expect(code).toBe(0);
  expect(stdout).toContain('warning: outcome/left (outcomes/left.yaml)');
});

it('does not call rules unbroken where the check is switched off', () => {
  const files = { ...contradicted, 'swaplore.yaml': 'swaplore: 1\nseverity: {outcome-breaks-rule: off}\n' };
  expect(swaplore(files, ['contradictions'])).toMatchInlineSnapshot(`
    "Outcomes against rules: .
    =========================

    This base switches the check \`outcome-breaks-rule\` off, so outcomes that break a
    rule are only counted, under against.

    Rules

    rule              support  against  undecided  excepted
    tern-rom-travels        1        1          0         1

    Support and against count outcomes that decide the claim. Undecided: a control,
    a value or the scope is not known. Excepted: set aside by the rule itself.
    Outcomes the claim says nothing about are not counted.
    exit 0"
  `);
});

describe('which base', () => {
  const inFolders = (...folders: string[]): Record<string, string> =>
    Object.fromEntries(
      folders.flatMap((folder) => Object.entries(contradicted).map(([path, text]) => [`${folder}/${path}`, text])),
    );

  it('the one --folder names, with paths from the working folder', () => {
    const { stdout, code } = runCommand(folderOf(inFolders('a', 'b')), ['contradictions', '--folder', 'b']);
    expect(code).toBe(1);
    expect(stdout).toContain('error: outcome/left (b/outcomes/left.yaml)');
  });

  it('the nearest upward', () => {
    const { stdout, code } = runCommand(folderOf(inFolders('a', 'b')), ['contradictions'], { from: 'a/drives' });
    expect(code).toBe(1);
    expect(stdout).toContain('error: outcome/left (../outcomes/left.yaml)');
  });

  it('the only one below', () => {
    const { stdout, code } = runCommand(folderOf(inFolders('a')), ['contradictions']);
    expect(code).toBe(1);
    expect(stdout).toContain('error: outcome/left (a/outcomes/left.yaml)');
  });

  it('none where there are several below', () => {
    expect(swaplore(inFolders('a', 'b'), ['contradictions'])).toMatchInlineSnapshot(`
      "! swaplore: There are several bases here: a, b.
      ! Name one with --folder.
      exit 2"
    `);
  });

  it('none where there is none', () => {
    expect(swaplore({}, ['contradictions'])).toMatchInlineSnapshot(`
      "! swaplore: There is no swaplore.yaml in, above or below this folder.
      ! A base is the folder that holds a swaplore.yaml with the line "swaplore: 1".
      exit 2"
    `);
  });

  it('none where --folder names nothing', () => {
    expect(swaplore(inFolders('a'), ['contradictions', '--folder', 'b'])).toMatchInlineSnapshot(`
      "! swaplore: The folder b cannot be read: nothing is there.
      exit 2"
    `);
  });

  it('none where its config cannot be used', () => {
    expect(swaplore({ ...ternBench, 'swaplore.yaml': 'swaplore: 2\n' }, ['contradictions'])).toMatchInlineSnapshot(`
      "! swaplore: The base . has a config that cannot be used.
      ! swaplore lint says why.
      exit 2"
    `);
  });
});

describe('outcomes that cannot all be right', () => {
  it('are shown with what to do', () => {
    expect(swaplore(chainFiles(), ['contradictions'])).toMatchInlineSnapshot(`
      "Outcomes against rules: Harbour Street bench
      ============================================

      No recorded outcome breaks a rule.

      Outcomes that cannot all be right

      error: outcome/c-with-b (outcomes/c-with-b.yaml)
        Outcomes \`b-with-a\`, \`c-with-a\` and \`c-with-b\` cannot all be right if rules
        \`tern-enough\` and \`tern-preamp\` hold: \`c-with-a\` fails at \`reads\`, which by
        \`tern-enough\` rules out \`same: [rev], same: [preamp]\`; \`b-with-a\` and
        \`c-with-b\` work at \`reads\`, which by \`tern-preamp\` takes \`same: [preamp]\`.
        Check the bench notes of \`b-with-a\` first: without it nothing here is at odds;
        then the rules.

      Rules

      rule         support  against  undecided  excepted
      tern-enough        0        0          3         0
      tern-preamp        0        0          3         0

      Support and against count outcomes that decide the claim. Undecided: a control,
      a value or the scope is not known. Excepted: set aside by the rule itself.
      Outcomes the claim says nothing about are not counted.
      exit 1"
    `);
  });

  it('are given as data', () => {
    const { stdout } = runCommand(folderOf(chainFiles()), ['contradictions', '--json']);
    const { joint, forced } = JSON.parse(stdout);
    expect({ joint, forced }).toMatchInlineSnapshot(`
      {
        "forced": [],
        "joint": [
          {
            "assumptions": [],
            "outcomes": [
              "b-with-a",
              "c-with-a",
              "c-with-b",
            ],
            "rules": [
              "tern-enough",
              "tern-preamp",
            ],
            "smallestRemoval": [
              "b-with-a",
            ],
            "smallestRemovalExact": true,
          },
        ],
      }
    `);
  });

  it('that are missing a link say what the rest comes to', () => {
    const { 'c-with-a': open, ...rest } = chain;
    const files = chainFiles({ ...rest, 'c-with-a': { ...open!, controls: '{donor_on_own_board: works}' } });
    const inconclusive = files['outcomes/c-with-a.yaml']!.replace('result: fails', 'result: inconclusive');
    expect(swaplore({ ...files, 'outcomes/c-with-a.yaml': inconclusive }, ['contradictions'])).toMatchInlineSnapshot(`
      "Outcomes against rules: Harbour Street bench
      ============================================

      No recorded outcome breaks a rule.

      What follows for values that are not recorded

      drive/a and drive/b have the same \`preamp\`
        From rule \`tern-preamp\` and outcome \`b-with-a\`.

      drive/a and drive/c have the same \`preamp\`
        From rule \`tern-preamp\` and outcomes \`b-with-a\` and \`c-with-b\`.

      drive/b and drive/c have the same \`preamp\`
        From rule \`tern-preamp\` and outcome \`c-with-b\`.

      Rules

      rule         support  against  undecided  excepted
      tern-enough        0        0          3         0
      tern-preamp        0        0          3         0

      Support and against count outcomes that decide the claim. Undecided: a control,
      a value or the scope is not known. Excepted: set aside by the rule itself.
      Outcomes the claim says nothing about are not counted.
      exit 0"
    `);
  });
});
