import { describe, expect, it } from 'vitest';
import { evaluate } from '../../server/src/core/conditions/evaluate.ts';
import { toFormula } from '../../server/src/core/conditions/formula.ts';
import { swapOf } from '../../server/src/core/conditions/swap.ts';
import type { Truth } from '../../server/src/core/conditions/truth.ts';
import { isInScope, toRule } from '../../server/src/core/reasoning/rule.ts';
import { loadFiles } from '../harness/lint-files.ts';

/** What a rule's condition and scope say of one swap; keys of the two drives and of the rule are given as YAML lines. */
async function judge(lines: Readonly<Record<string, string>>) {
  const { rule, patient = '', donor = '', family = 'maker: wren', outcome: done = '' } = lines;
  const snapshot = await loadFiles({
    'base.yaml': `kind: maker
id: wren
name: Wren
---
kind: family
id: tern-2
name: Tern 2
${family}
---
kind: board
id: kestrel
maker: wren
part_number: K-40
revisions:
  - {rev: A, controller: [WY-1, WY-2]}
  - {rev: B, controller: WY-1, drop_in_for: [A]}
  - {rev: C, drop_in_for: [B]}
  - {rev: D, controller: [WY-8, WY-9]}
---
kind: drive
id: d-1
family: tern-2
${patient}
---
kind: drive
id: d-2
family: tern-2
${donor}
---
kind: outcome
id: one
date: 2026-03-14
patient: d-1
donor: d-2
${done}
reached: reads
result: works
---
kind: rule
id: law
claim: needs
${rule}
`,
  });
  const record = snapshot.find('rule', 'law');
  const outcome = snapshot.find('outcome', 'one');
  const applied = record && toRule(record, 'reads');
  const swap = outcome && swapOf(outcome, snapshot);
  if (!record?.data.when || !applied || !swap) throw new Error('the sample does not load');
  return { truth: evaluate(toFormula(record.data.when, ['when']), swap), scope: isInScope(applied, swap.patient) };
}

const cases: readonly (readonly [string, string, string, string, Truth])[] = [
  ['a month inside the range', 'when: {patient: {made: {from: 2012-08, to: 2012-10}}}', 'made: 2012-09', '', true],
  ['a month outside it', 'when: {patient: {made: {from: 2012-08, to: 2012-10}}}', 'made: 2012-11', '', false],
  ['a week half inside', 'when: {patient: {made: {to: 2012-07-31}}}', 'made: 2012-W31', '', undefined],
  ['no date of manufacture', 'when: {patient: {made: 2012}}', '', '', undefined],
  // 2012-W30 is 23 to 29 July, 2012-W31 is 30 July to 5 August: nearest days 1 apart, farthest 13. Source: ISO 8601.
  ['weeks: even the farthest days are near', 'when: {made_within_weeks: 2}', 'made: 2012-W30', 'made: 2012-W31', true],
  [
    'weeks: only the nearest days are near',
    'when: {made_within_weeks: 1}',
    'made: 2012-W30',
    'made: 2012-W31',
    undefined,
  ],
  ['weeks: not even the nearest days are', 'when: {made_within_weeks: 1}', 'made: 2012-W30', 'made: 2012-W33', false],
  [
    'weeks: the order of the two does not count',
    'when: {made_within_weeks: 1}',
    'made: 2012-W33',
    'made: 2012-W30',
    false,
  ],
  ['all: one false', 'when: {all: [{same: [site]}, {same: [heads]}]}', 'site: P\nheads: 2', 'site: P\nheads: 4', false],
  [
    'all: beside another entry',
    'when: {same: [site], all: [{same: [heads]}]}',
    'site: P\nheads: 2',
    'site: P\nheads: 4',
    false,
  ],
  ['all of none', 'when: {all: []}', '', '', true],
  ['any of none', 'when: {any: []}', '', '', false],
  ['none of none', 'when: {none: []}', '', '', true],
  ['none: one true', 'when: {none: [{same: [site]}]}', 'site: P', 'site: P', false],
  [
    'text without regard to case and spaces',
    'when: {same: [firmware]}',
    'firmware: "R4  .08"',
    'firmware: r4 .08',
    true,
  ],
  [
    'a drop-in of a drop-in',
    'when: {revision: drop_in}',
    'board: {id: kestrel, rev: A}',
    'board: {id: kestrel, rev: C}',
    true,
  ],
  [
    'a drop-in the other way round',
    'when: {revision: drop_in}',
    'board: {id: kestrel, rev: C}',
    'board: {id: kestrel, rev: A}',
    false,
  ],
  [
    'an alternative that may fit',
    'when: {same: [controller]}',
    'board: {id: kestrel, rev: A}',
    'board: {id: kestrel, rev: B}',
    undefined,
  ],
  [
    'a value outside the alternatives',
    'when: {patient: {controller: WY-9}}',
    'board: {id: kestrel, rev: A}',
    '',
    false,
  ],
  [
    'every alternative accepted',
    'when: {patient: {controller: [WY-1, WY-2]}}',
    'board: {id: kestrel, rev: A}',
    '',
    true,
  ],
  [
    'one revision, its part unrecorded',
    'when: {same: [controller]}',
    'board: {id: kestrel, rev: C}',
    'board: {id: kestrel, rev: C}',
    undefined,
  ],
  [
    'alternatives that have none in common',
    'when: {same: [controller]}',
    'board: {id: kestrel, rev: A}',
    'board: {id: kestrel, rev: D}',
    false,
  ],
  [
    'revisions of one name on two boards',
    'when: {same: [rev]}',
    'board: {id: kestrel, rev: A}',
    'board: {id: merlin, rev: A}',
    false,
  ],
  ['a number below the range', 'when: {patient: {heads: {from: 4}}}', 'heads: 2', '', false],
  ['a number above it', 'when: {patient: {heads: {to: 4}}}', 'heads: 6', '', false],
  ['a number at its end', 'when: {patient: {heads: {from: 2, to: 4}}}', 'heads: 4', '', true],
  ['a revision by its board', 'when: {donor: {rev: kestrel/B}}', '', 'board: {id: kestrel, rev: B}', true],
  ['another revision of it', 'when: {donor: {rev: kestrel/B}}', '', 'board: {id: kestrel, rev: C}', false],
  ['one revision of several', 'when: {donor: {rev: [kestrel/A, kestrel/C]}}', '', 'board: {id: kestrel, rev: C}', true],
  [
    'other revisions of one board',
    'when: {revision: other}',
    'board: {id: kestrel, rev: C}',
    'board: {id: kestrel, rev: A}',
    true,
  ],
];

/** What was done about the ROM, where the family keeps its adaptives, and whether the patient's came along. Common practice, no source. */
const roms: readonly (readonly [string, string, Truth])[] = [
  ['rom: left', 'adaptives: {stored_in: rom_chip}', false],
  ['rom: chip_moved', 'adaptives: {stored_in: rom_chip}', true],
  ['rom: image_written', 'adaptives: {stored_in: rom_chip}', true],
  ['rom: controller_moved', 'adaptives: {stored_in: rom_chip}', false],
  ['rom: not_fitted', 'adaptives: {stored_in: rom_chip}', undefined],
  ['rom: left', 'adaptives: {stored_in: controller}', false],
  ['rom: chip_moved', 'adaptives: {stored_in: controller}', false],
  ['rom: image_written', 'adaptives: {stored_in: controller}', true],
  ['rom: controller_moved', 'adaptives: {stored_in: controller}', true],
  ['rom: not_fitted', 'adaptives: {stored_in: controller}', false],
  ['rom: left', 'adaptives: {stored_in: platters}', true],
  ['rom: [chip_moved, controller_moved]', 'adaptives: {stored_in: controller}', true],
  ['', 'adaptives: {stored_in: rom_chip}', undefined],
  ['rom_from: d-1', 'adaptives: {stored_in: rom_chip}', true],
  ['rom_from: d-2', 'adaptives: {stored_in: rom_chip}', false],
  // Where they are kept is not recorded: every place says the same, or it is not known.
  ['rom: image_written', '', true],
  ['rom: left', '', undefined],
  ['rom_from: d-1', '', true],
];

describe('the ROM', () => {
  it.each(roms)('%s, %s', async (outcome, family, truth) => {
    const { truth: found } = await judge({
      rule: 'when: {rom_travels: true}',
      outcome,
      family: `maker: wren\n${family}`,
    });
    expect(found).toBe(truth);
  });
});

describe('a condition', () => {
  it.each(cases)('%s', async (_, rule, patient, donor, truth) => {
    expect((await judge({ rule, patient, donor })).truth).toBe(truth);
  });
});

describe('a scope', () => {
  const rule = 'applies_to: {makers: [wren]}\nwhen: {}';

  it('holds for the maker named', async () => {
    expect((await judge({ rule })).scope).toBe(true);
  });

  it('is not known where the maker is not', async () => {
    expect((await judge({ rule, family: 'maker: Wren' })).scope).toBe(undefined);
  });

  it('is not known where the date of manufacture is not, and decided where it is', async () => {
    const dated = 'applies_to: {made: {from: 2010, to: 2014}}\nwhen: {}';
    expect((await judge({ rule: dated })).scope).toBe(undefined);
    expect((await judge({ rule: dated, patient: 'made: 2014-12-31' })).scope).toBe(true);
    expect((await judge({ rule: dated, patient: 'made: 2015-W01' })).scope).toBe(undefined);
    expect((await judge({ rule: dated, patient: 'made: 2015-02' })).scope).toBe(false);
  });
});
