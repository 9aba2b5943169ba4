import { describe, expect, it } from 'vitest';
import { ruleImplied } from '../../server/src/core/checks/rule-implied.ts';
import { ruleImpossible } from '../../server/src/core/checks/rule-impossible.ts';
import { rulesConflict } from '../../server/src/core/checks/rules-conflict.ts';
import { lintFiles } from '../harness/lint-files.ts';

const base = {
  'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n---\nkind: maker\nid: lark\nname: Lark\n',
  'families/tern.yaml': `kind: family
id: tern-2
maker: wren
name: Tern 2
interface: sata
adaptives: {stored_in: rom_chip}
---
kind: family
id: tern-3
maker: wren
name: Tern 3
adaptives: {stored_in: platters}
---
kind: family
id: gull-1
maker: lark
name: Gull
`,
  'boards/kestrel.yaml': `kind: board
id: kestrel
maker: wren
part_number: K 1
families: [tern-2]
revisions:
  - {rev: A1, controller: KR1, contact_pads: 18, drop_in_for: [B1]}
  - {rev: B1, controller: KR2, contact_pads: 18}
  - {rev: C1, controller: [KR1, KR2], contact_pads: 20}
`,
};

/** A rule in flow form, by its id. */
function rule(id: string, text: string): string {
  return `{kind: rule, id: ${id}, ${text}}\n`;
}

async function messages(rules: Readonly<Record<string, string>>, files: object = {}): Promise<string[]> {
  const text = Object.entries(rules).map(([id, body]) => rule(id, body));
  const findings = await lintFiles(
    { ...base, 'rules/all.yaml': text.join('---\n'), ...files },
    { checks: [rulesConflict, ruleImplied, ruleImpossible] },
  );
  return findings.map(({ check, severity, message }) => `${severity} ${check}: ${message}`);
}

describe('rules that cannot both hold', () => {
  it.each([
    [
      'the stage of what is enough is higher',
      'claim: enough, when: {same: [rev]}',
      'claim: needs, when: {same: [firmware]}, stage: ready',
    ],
    ['or the same', 'claim: enough, when: {same: [rev]}', 'claim: prevents, when: {different: [site]}'],
    [
      'a revision may carry either chip',
      'claim: enough, when: {same: [rev]}',
      'claim: needs, when: {same: [controller]}',
    ],
    [
      'a drop-in may carry another chip',
      'claim: enough, when: {revision: drop_in, patient: {rev: kestrel/B1}}',
      'claim: needs, when: {same: [controller]}',
    ],
    [
      'boards may be of other families',
      'claim: enough, when: {same: [controller]}',
      'claim: prevents, when: {different: [board]}',
    ],
    [
      'a family that is not recorded may be anything',
      'claim: enough, when: {rom_travels: true}, applies_to: {makers: [wren]}',
      'claim: prevents, when: {family_is: {interface: usb}}',
    ],
    [
      'dates may be that far apart',
      'claim: enough, when: {made_within_weeks: 5}',
      'claim: needs, when: {made_within_weeks: 4}',
    ],
  ])('%s', async (_, a, b) => {
    expect((await messages({ a, b })).map((message) => message.slice(0, 45))).toEqual([
      'warning rules-conflict: Rules `a` and `b` can',
    ]);
    expect(await messages({ a: b, b: a })).toHaveLength(1);
  });

  it.each([
    [
      'scopes that share no family',
      'claim: enough, when: {}, applies_to: {families: [tern-2]}',
      'claim: prevents, when: {same: [rev]}, applies_to: {families: [gull-1]}',
    ],
    [
      'a family of another maker',
      'claim: enough, when: {}, applies_to: {families: [tern-2]}',
      'claim: prevents, when: {same: [rev]}, applies_to: {makers: [lark]}',
    ],
    [
      'scopes that share no day',
      'claim: enough, when: {}, applies_to: {made: {to: 2012}}',
      'claim: prevents, when: {same: [rev]}, applies_to: {made: {from: 2013-01}}',
    ],
    [
      'what prevents a higher stage',
      'claim: enough, when: {same: [rev]}, stage: ready',
      'claim: prevents, when: {different: [site]}, stage: reads',
    ],
    [
      'what a higher stage needs',
      'claim: enough, when: {same: [rev]}, stage: ready',
      'claim: needs, when: {same: [site]}, stage: reads',
    ],
    [
      'equal revisions of one chip each',
      'claim: enough, when: {same: [rev]}',
      'claim: needs, when: {same: [contact_pads]}',
    ],
    [
      'equal revisions, hence boards',
      'claim: enough, when: {same: [rev]}',
      'claim: prevents, when: {different: [board]}',
    ],
    [
      'alternatives all of which are wanted',
      'claim: enough, when: {patient: {rev: kestrel/C1}}',
      'claim: needs, when: {patient: {controller: [KR1, KR2, KR3]}}',
    ],
    [
      'a list that leaves nothing else',
      'claim: enough, when: {patient: {rom_package: [soic16, nand]}, same: [rom_package]}',
      'claim: prevents, when: {donor: {rom_package: [soic8_150mil, soic8_208mil, wson8_6x5, wson8_8x6, plcc32, tsop]}}',
    ],
    [
      'drop-ins the other way round',
      'claim: enough, when: {revision: drop_in, patient: {rev: kestrel/A1}, donor: {rev: kestrel/B1}}',
      'claim: prevents, when: {different: [controller]}',
    ],
    [
      'adaptives that need not travel',
      'claim: enough, when: {}, applies_to: {families: [tern-3]}',
      'claim: needs, when: {rom_travels: true}',
    ],
    [
      'a fact about the family',
      'claim: enough, when: {}, applies_to: {families: [tern-2]}',
      'claim: prevents, when: {family_is: {interface: [usb, pata]}}',
    ],
    ['a rate', 'claim: enough, when: {}, at_least: 0.9', 'claim: prevents, when: {same: [rev]}'],
    [
      'dates no farther apart',
      'claim: enough, when: {made_within_weeks: 4}',
      'claim: needs, when: {made_within_weeks: 5}',
    ],
    ['a revision that is not recorded', 'claim: enough, when: {}', 'claim: prevents, when: {donor: {rev: kestrel/D9}}'],
    [
      'a retracted rule',
      'claim: enough, when: {}',
      'claim: prevents, when: {same: [rev]}, retracted: {on: 2026-01-02, because: no}',
    ],
  ])('but not for %s', async (_, a, b) => {
    const found = await messages({ a, b });
    expect(found.filter((message) => message.includes('rules-conflict'))).toEqual([]);
    const turned = await messages({ a: b, b: a });
    expect(turned.filter((message) => message.includes('rules-conflict'))).toEqual([]);
  });

  it('is an error only where both were measured or are the word of the maker', async () => {
    const a = 'claim: enough, when: {same: [rev]}, basis: measured';
    const b = 'claim: needs, when: {same: [site]}';
    expect((await messages({ a, b }))[0]).toMatch(/^warning/);
    expect((await messages({ a, b: `${b}, basis: maker_document` }))[0]).toMatch(/^error/);
  });

  it('stays silent while a revision that a rule names cannot be read', async () => {
    const rules = {
      a: 'claim: enough, when: {patient: {rev: kestrel/A1}}',
      b: 'claim: prevents, when: {patient: {contact_pads: 20}}',
    };
    const text = base['boards/kestrel.yaml'].replace('contact_pads: 18, drop', 'contact_pads: eighteen, drop');
    expect(await messages(rules, { 'boards/kestrel.yaml': text })).toEqual([]);
    const open = base['boards/kestrel.yaml'].replace('contact_pads: 18, drop', 'drop');
    expect(await messages(rules, { 'boards/kestrel.yaml': open })).toHaveLength(1);
  });

  it('shows the smallest swap, on recorded boards where these do', async () => {
    const rules = {
      a: 'claim: enough, when: {revision: drop_in, rom_travels: true}, applies_to: {families: [tern-2]}',
      b: 'claim: needs, when: {same: [controller]}',
    };
    expect(await messages(rules)).toMatchInlineSnapshot(`
      [
        "warning rules-conflict: Rules \`a\` and \`b\` cannot both hold: of a swap with family \`tern-2\`, \`rev\` \`kestrel/B1\` on the patient and \`kestrel/A1\` on the donor, the donor's revision a drop-in for the patient's and \`rom\` \`chip_moved\`, the one says that it works at \`reads\`, the other that it cannot work at \`reads\`.",
      ]
    `);
  });
});

describe('rules that add nothing', () => {
  it.each([
    [
      'a narrower scope',
      'claim: needs, when: {same: [rev]}',
      'claim: needs, when: {same: [rev]}, applies_to: {families: [tern-2]}',
      true,
    ],
    ['a weaker condition', 'claim: needs, when: {same: [rev]}', 'claim: needs, when: {same: [board]}', true],
    ['the same as a ban', 'claim: needs, when: {same: [rev]}', 'claim: prevents, when: {different: [rev]}', true],
    ['a higher stage', 'claim: needs, when: {same: [rev]}, stage: ready', 'claim: needs, when: {same: [rev]}', true],
    ['a lower stage', 'claim: needs, when: {same: [rev]}', 'claim: needs, when: {same: [rev]}, stage: ready', false],
    [
      'what is enough for less',
      'claim: enough, when: {same: [board]}',
      'claim: enough, when: {same: [rev]}, stage: ready',
      true,
    ],
    [
      'what is enough for more',
      'claim: enough, when: {same: [board]}, stage: ready',
      'claim: enough, when: {same: [rev]}',
      false,
    ],
    ['a rate', 'claim: needs, when: {same: [rev]}', 'claim: needs, when: {same: [rev]}, at_least: 0.9', false],
    [
      'a law with fewer exceptions',
      'claim: needs, when: {same: [rev]}, exceptions: [{outcome: one, because: so}]',
      'claim: needs, when: {same: [rev]}',
      false,
    ],
    [
      'facts of the only family',
      'claim: needs, when: {same: [rev]}, applies_to: {families: [tern-2]}',
      'claim: needs, when: {any: [{same: [rev]}, {family_is: {interface: usb}}]}, applies_to: {families: [tern-2]}',
      true,
    ],
  ])('%s', async (_, a, b, isImplied) => {
    expect(
      (await messages({ a, b })).filter((message) => message.startsWith('info rule-implied: Rule `b`')),
    ).toHaveLength(isImplied ? 1 : 0);
  });

  it('names of two equal ones the later', async () => {
    const text = 'claim: needs, when: {same: [rev]}';
    expect(await messages({ b: text, a: text, c: text })).toEqual([
      'info rule-implied: Rule `b` says the same as rule `a`: every swap that stands against the one stands against the other.',
      'info rule-implied: Rule `c` says the same as rule `a`: every swap that stands against the one stands against the other.',
    ]);
  });
});

describe('rules that nothing can meet or break', () => {
  it.each([
    ['claim: needs, when: {any: []}', 'would let nothing work: no swap in its scope can meet `any: []`'],
    ['claim: enough, when: {none: [{}]}', 'can never be broken: no swap in its scope can meet `none: [{anything}]`'],
    [
      'claim: prevents, when: {patient: {heads: {from: 4, to: 3}}}',
      'can never be broken: no swap in its scope can meet `patient: {heads: {from: 4, to: 3}}`',
    ],
    ['claim: needs, when: {}', 'can never be broken: every swap in its scope meets `anything`'],
    [
      'claim: needs, when: {same: [site]}, applies_to: {families: [tern-2], makers: [lark]}',
      'speaks of no patient: none can lie in its scope',
    ],
    [
      'claim: needs, when: {same: [site]}, applies_to: {made: {from: 2014, to: 2012}}',
      'speaks of no patient: none can lie in its scope',
    ],
    [
      'claim: enough, when: {same: [rev], different: [contact_pads]}',
      'can never be broken: no swap in its scope can meet `same: [rev], different: [contact_pads]`',
    ],
    [
      'claim: enough, when: {patient: {rom_package: other}}, at_least: 0.5',
      'can never be broken: no swap in its scope can meet `patient: {rom_package: other}`',
    ],
  ])('%s', async (text, what) => {
    expect(await messages({ a: text })).toEqual([`warning rule-impossible: Rule \`a\` ${what}.`]);
  });

  it.each([
    'claim: enough, when: {same: [rev], different: [controller]}',
    'claim: prevents, when: {patient: {heads: {from: 3, to: 3}}}',
    'claim: needs, when: {same: [site]}, applies_to: {families: [tern-2, gull-1], makers: [lark]}',
    'claim: needs, when: {rom_travels: true}, applies_to: {families: [gull-1]}',
  ])('but not %s', async (text) => {
    expect(await messages({ a: text })).toEqual([]);
  });

  it('take no part in what else is found', async () => {
    expect(
      await messages({ a: 'claim: enough, when: {same: [rev]}', b: 'claim: needs, when: {any: []}' }),
    ).toHaveLength(1);
  });
});
