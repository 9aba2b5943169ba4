import { describe, expect, it } from 'vitest';
import { reviewOf } from '../harness/review-of.ts';
import type { Texts } from '../harness/snapshot-of.ts';
import { ternBench } from '../harness/tern-bench.ts';

/** A swap that breaks the rule of the bench: it reads although the ROM was left behind. */
const left = `kind: outcome
id: left
date: 2026-03-15
patient: d-0117
donor: d-0118
rom: left
controls: {donor_on_own_board: works, patient_on_own_board: works}
reached: reads
result: works
`;

/** A failure with every control. */
const failed = left
  .replace('id: left', 'id: failed')
  .replace('reached: reads', 'reached: spins')
  .replace('result: works', 'result: fails');

const rule = ternBench['rules/tern.yaml'];

const bench: Record<string, string> = { ...ternBench, 'outcomes/left.yaml': left };

function asked(before: Texts, after: Texts): string[] {
  return reviewOf(before, after).questions.map(({ record, text }) => `${record ?? '-'}: ${text}`);
}

function without(path: string): Texts {
  const { [path]: _, ...rest } = bench;
  return rest;
}

describe('questions about outcomes that stood against a rule', () => {
  it('asks about one that is removed, once, whatever it stood against', () => {
    const second = `${rule}---\n${rule.replace('tern-rom-travels', 'tern-rom-too')}`;
    const before = { ...bench, 'rules/tern.yaml': second };
    const after = { ...without('outcomes/left.yaml'), 'rules/tern.yaml': second };
    expect(asked(before, after)).toEqual([
      'outcome/left: Outcome `left` counted against rules `tern-rom-too` and `tern-rom-travels` and is removed: what was wrong with it, and would a retraction keep the trace of it?',
    ]);
  });

  it('asks nothing where the same stands under another id or in another file', () => {
    const renamed = { ...without('outcomes/left.yaml'), 'outcomes/other.yaml': left.replace('id: left', 'id: other') };
    expect(asked(bench, renamed)).toEqual([]);
    expect(asked(bench, { ...without('outcomes/left.yaml'), 'moved/left.yml': left })).toEqual([]);
  });

  it('asks about one that is retracted', () => {
    const retracted = `${left}retracted: {on: 2026-04-01, because: the boards were mixed up}\n`;
    expect(asked(bench, { ...bench, 'outcomes/left.yaml': retracted })).toEqual([
      'outcome/left: Outcome `left` counted against rule `tern-rom-travels` and is now retracted because `the boards were mixed up`: does that hold?',
    ]);
  });

  it('asks about one that says something else, with what was changed', () => {
    const flipped = left.replace('rom: left', 'rom: chip_moved');
    expect(asked(bench, { ...bench, 'outcomes/left.yaml': flipped })).toEqual([
      'outcome/left: Outcome `left` counted against rule `tern-rom-travels` and no longer does; changed: ROM: `left` → `chip_moved`. Who saw that, and when?',
    ]);
  });

  it('asks about one that can no longer be read', () => {
    expect(asked(bench, { ...bench, 'outcomes/left.yaml': `${left}by: [\n` })).toEqual([
      'outcome/left: Outcome `left` counted against rule `tern-rom-travels` and can no longer be read: is its file meant to stay like this?',
    ]);
  });

  it('asks about the family where that is what makes the difference', () => {
    const family = ternBench['families/tern.yaml'].replace('rom_chip', 'platters');
    const [first, ...others] = asked(bench, { ...bench, 'families/tern.yaml': family });
    expect(first).toBe(
      'outcome/left: Outcome `left` counted against rule `tern-rom-travels` and no longer does; changed: `family/tern-2`. Who saw that, and when?',
    );
    expect(others).toEqual([]);
  });

  it('asks about a failure that goes, though no rule speaks of it', () => {
    const { 'rules/tern.yaml': _, ...lawless } = { ...ternBench, 'outcomes/failed.yaml': failed };
    const { 'outcomes/failed.yaml': __, ...after } = lawless;
    expect(asked(lawless, after)).toEqual([
      'outcome/failed: Outcome `failed` failed at `reads` with every control and is removed: what was wrong with it, and would a retraction keep the trace of it?',
    ]);
  });
});

describe('questions about rules', () => {
  const withRule = (text: string): Texts => ({ ...bench, 'rules/tern.yaml': text });

  it('asks about each exception that is added, and not about the outcome', () => {
    expect(asked(bench, withRule(`${rule}exceptions: [{outcome: left, because: power was lost}]\n`))).toEqual([
      'rule/tern-rom-travels: Rule `tern-rom-travels` now excepts outcome `left` and says `power was lost`: does that set the outcome aside, or is the rule wrong?',
    ]);
  });

  it('asks nothing of a rule that only bears another id', () => {
    const old = `${rule.replace('measured', 'hearsay')}exceptions: [{outcome: left, because: power was lost}]\n`;
    const before = { ...bench, 'rules/tern.yaml': old };
    expect(asked(before, { ...bench, 'rules/tern.yaml': old.replace('tern-rom-travels', 'tern-rom') })).toEqual([]);
  });

  it('asks where a law becomes a rate, moves up, or its scope shrinks', () => {
    for (const [weaker, words] of [
      [`${rule}at_least: 0.9\n`, 'At least: `0.9` added'],
      [`${rule}stage: verified\n`, 'Stage: `verified` added'],
      [
        rule.replace('families: [tern-2]', 'families: [tern-2], made: {from: 2014}'),
        'Applies to, made: `{from: 2014}` added',
      ],
      [
        rule.replace('rom_travels: true', 'any: [{rom_travels: true}, {same: [rev]}]'),
        'When: `rom_travels: true` → `any: [{rom_travels: true}, {same: [rev]}]`',
      ],
      [rule.replace('basis: measured', 'basis: common_practice'), 'Basis: `measured` → `common_practice`'],
    ] as const) {
      expect(asked(bench, withRule(weaker))).toContain(
        `rule/tern-rom-travels: Rule \`tern-rom-travels\` demands less than before, or something else (${words}): which swaps have shown that?`,
      );
    }
  });

  it('asks nothing where a rule demands more', () => {
    for (const stronger of [
      rule.replace('rom_travels: true', 'rom_travels: true, same: [rev]'),
      rule.replace('applies_to: {families: [tern-2]}\n', ''),
      `${rule}stage: spins\n`,
    ]) {
      const texts = asked(bench, withRule(stronger)).filter((text) => text.startsWith('rule/'));
      expect(texts).toEqual([]);
    }
  });

  it('asks about a rule that goes, is retracted, or rests on hearsay now', () => {
    expect(asked(bench, without('rules/tern.yaml'))).toEqual([
      'rule/tern-rom-travels: Rule `tern-rom-travels` is removed, with 1 outcome for it and 1 against: what has shown it to be wrong, and would a retraction keep the trace of it?',
    ]);
    expect(asked(bench, withRule(`${rule}retracted: {on: 2026-04-01, because: it was wrong}\n`))).toEqual([
      'rule/tern-rom-travels: Rule `tern-rom-travels` is retracted, with 1 outcome for it and 1 against, because `it was wrong`: does that hold?',
    ]);
    expect(asked(bench, withRule(rule.replace('measured', 'hearsay')))).toEqual([
      'rule/tern-rom-travels: Rule `tern-rom-travels` rests on hearsay: who says so, and which swap would show it?',
    ]);
  });
});

describe('questions about what is not there', () => {
  it('asks for the control that a failure lacks, and for the key that would decide', () => {
    const open = failed
      .replace('donor_on_own_board: works', 'donor_on_own_board: not_tested')
      .replace('fails', 'inconclusive');
    const texts = asked(bench, {
      ...bench,
      'outcomes/failed.yaml': open,
      'rules/firmware.yaml': 'kind: rule\nid: firmware\nclaim: needs\nwhen: {same: [firmware]}\nbasis: measured\n',
    });
    expect(texts).toEqual([
      "outcome/failed: Outcome `failed` reached `spins` and is inconclusive at `reads`, because nothing shows the donor's board good at `reads` on its own drive: can that still be made up for?",
      'drive/d-0117: Drive `d-0117` does not record `firmware`, on which it depends what outcome `failed` says of rule `firmware`: can it be read from the label?',
      'drive/d-0118: Drive `d-0118` does not record `firmware`, on which it depends what outcome `failed` says of rule `firmware`: can it be read from the label?',
    ]);
  });

  it('asks nothing more of an outcome that was open already, or of which something graver is asked', () => {
    const open = failed
      .replace('donor_on_own_board: works', 'donor_on_own_board: not_tested')
      .replace('fails', 'inconclusive');
    const before = { ...bench, 'outcomes/failed.yaml': open };
    expect(asked(before, { ...before, 'outcomes/failed.yaml': `${open}by: bench-2\n` })).toEqual([]);
    const enough = 'kind: rule\nid: left-suffices\nclaim: enough\nwhen: {rom_travels: false}\nbasis: measured\n';
    const against = { ...bench, 'rules/enough.yaml': enough, 'outcomes/failed.yaml': failed };
    expect(asked(against, { ...against, 'outcomes/failed.yaml': open })).toEqual([
      'outcome/failed: Outcome `failed` counted against rule `left-suffices` and no longer does (at `reads` it fails and now is inconclusive); changed: Controls, donor on own board: `works` → `not_tested`; Result: `fails` → `inconclusive`. Who saw that, and when?',
    ]);
  });

  it('asks about serial numbers in full, under either setting', () => {
    const drives = ternBench['drives/tern.yaml'].replace('family: tern-2', 'family: tern-2\nserial: WRN0A4F2K');
    expect(asked(bench, { ...bench, 'drives/tern.yaml': drives })).toEqual([
      'drive/d-0117: Drive `d-0117` holds a serial number in full: this base keeps them masked; can it be taken out of the history of the repository too?',
    ]);
    const full = { ...bench, 'swaplore.yaml': 'swaplore: 1\nserials: full\n' };
    expect(asked(full, { ...full, 'drives/tern.yaml': drives })).toEqual([
      'drive/d-0117: Drive `d-0117` holds a serial number in full: have the owners agreed to that?',
    ]);
  });
});

describe('questions about settings', () => {
  const under = (settings: string, texts: Texts = bench): string[] =>
    asked(bench, { ...texts, 'swaplore.yaml': `swaplore: 1\nname: Harbour Street bench\n${settings}\n` });

  it('says what a check that is switched off hides, what came with the change among it', () => {
    const second = { ...bench, 'outcomes/second.yaml': left.replace('id: left', 'id: second') };
    expect(under('severity: {outcome-breaks-rule: off}', second)).toEqual([
      '-: The check `outcome-breaks-rule` is switched off, which hides 2 findings of this base: is each of them known and accepted?',
    ]);
    expect(under('severity: {outcome-breaks-rule: info}')).toEqual([
      '-: The check `outcome-breaks-rule` sinks from `error` to `info`, which makes less of 1 finding: why does it matter less now?',
    ]);
    expect(under('severity: {wwn-invalid: off}')).toEqual([
      '-: The check `wwn-invalid` is switched off, though it finds nothing in this base: what is it in the way of?',
    ]);
    expect(under('severity: {rule-untested: error}')).toEqual([]);
  });

  it('asks once about files that are left out, however many records are gone with them', () => {
    expect(under('ignore: [outcomes/**]', { ...without('outcomes/left.yaml'), 'outcomes/moved.yaml': '' })).toEqual([
      '-: Files that match `outcomes/**` no longer belong to the base, and 2 records are gone with them: why are they left out?',
    ]);
  });

  it('asks where less counts as working or verified, and where more may be shown', () => {
    expect(under('works_at: spins')).toEqual([
      '-: What counts as working moves from `reads` to `spins`, by which every control and rate is judged, and each rule without a stage of its own: is that meant?',
    ]);
    expect(under('verified_share: 0.001')).toEqual([
      '-: The share that has to be compared before a read is verified sinks from `0.02` to `0.001`: what is the lower share based on?',
    ]);
    expect(under('kept_powered_minutes: 5')).toEqual([
      '-: A clicking or beeping drive may now stay powered for `5` instead of `0.5` minutes: who has decided that?',
    ]);
    expect(under('serials: full')).toEqual([
      '-: Serial numbers may now be recorded in full: have the owners of the drives agreed, and who can read this repository?',
    ]);
    expect(under('verified_share: 0.5')).toEqual([]);
  });
});
