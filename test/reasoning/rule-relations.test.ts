import { expect, it } from 'vitest';
import { describeWitness } from '../../server/src/core/reasoning/describe-witness.ts';
import { ruleRelations } from '../../server/src/core/reasoning/rule-relations.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

const base = {
  'makers.yaml': '{kind: maker, id: wren, name: Wren}\n---\n{kind: maker, id: lark, name: Lark}\n',
  'families.yaml': [
    '{kind: family, id: tern-2, maker: wren, name: Tern 2, interface: sata, adaptives: {stored_in: rom_chip}}',
    '{kind: family, id: tern-3, maker: wren, name: Tern 3, adaptives: {stored_in: platters}}',
    '{kind: family, id: gull-1, maker: lark, name: Gull, interface: sas}',
  ].join('\n---\n'),
  'boards.yaml': [
    `kind: board
id: kestrel
maker: wren
part_number: K 1
families: [tern-2]
revisions:
  - {rev: A1, controller: KR1, contact_pads: 18, drop_in_for: [B1]}
  - {rev: B1, controller: KR2, contact_pads: 18}
  - {rev: C1, controller: [KR1, KR2], contact_pads: 20}
`,
    `kind: board
id: merlin
maker: lark
part_number: M 1
families: [gull-1]
revisions:
  - {rev: A1, controller: [MR1, MR2], motor_driver: SV1}
retracted: {on: 2026-03-14, because: wrong}
`,
  ].join('---\n'),
};

/** How two rules stand to each other, in words. */
function relationsOf(one: string, other: string): string {
  const rules = [one, other].map((text, n) => `{kind: rule, id: ${n === 0 ? 'a' : 'b'}, ${text}}`).join('\n---\n');
  const { impossible, implied, conflicts, undecided } = ruleRelations(snapshotOf({ ...base, 'rules.yaml': rules }));
  const found = [
    ...impossible.map(({ rule, flaw }) => `${rule.record.id} ${flaw}`),
    ...implied.map(({ rule, by, isEqual }) => `${rule.record.id} ${isEqual ? 'is' : 'follows from'} ${by.record.id}`),
    ...conflicts.map(
      ({ enough, other: one, witness }) => `${enough.record.id} against ${one.record.id}: ${describeWitness(witness)}`,
    ),
    ...undecided.map(({ question }) => `undecided: ${question}`),
  ];
  return found.length === 0 ? 'apart' : found.join('; ');
}

/** Each pair of rules with how they stand to each other. */
function told(...pairs: readonly (readonly [one: string, other: string])[]): readonly string[] {
  return pairs.map(([one, other]) => `${one}  |  ${other}  =>  ${relationsOf(one, other)}`);
}

it('compares keys of both sides', () => {
  expect(
    told(
      ['claim: enough, when: {same: [rev]}', 'claim: needs, when: {same: [firmware]}'],
      ['claim: enough, when: {same: [rev]}', 'claim: needs, when: {same: [board]}'],
      ['claim: enough, when: {same: [firmware, site]}', 'claim: prevents, when: {different: [heads]}'],
      ['claim: enough, when: {same: [firmware]}', 'claim: enough, when: {same: [firmware, site]}'],
      ['claim: needs, when: {same: [firmware, site]}', 'claim: needs, when: {same: [site]}'],
      ['claim: needs, when: {same: [site]}', 'claim: prevents, when: {different: [site]}'],
      ['claim: enough, when: {patient: {heads: 4}}', 'claim: prevents, when: {donor: {heads: {from: 2, to: 4}}}'],
      [
        'claim: enough, when: {patient: {heads: {from: 2}}}',
        'claim: needs, when: {patient: {heads: {from: 2, to: 4}}}',
      ],
      ['claim: enough, when: {patient: {site: KL}, donor: {site: [SB, KL]}}', 'claim: prevents, when: {same: [site]}'],
      [
        'claim: enough, when: {any: [{same: [heads]}, {same: [site]}]}',
        'claim: needs, when: {all: [{same: [heads]}, {same: [model]}]}',
      ],
      [
        'claim: enough, when: {none: [{different: [heads]}, {patient: {heads: 2}}]}',
        'claim: prevents, when: {donor: {heads: [2, 4]}}',
      ],
      ['claim: prevents, when: {none: [{same: [site]}]}', 'claim: needs, when: {same: [site]}'],
      ['claim: enough, stage: ready, when: {same: [heads]}', 'claim: needs, stage: reads, when: {same: [site]}'],
      ['claim: enough, stage: reads, when: {same: [heads]}', 'claim: needs, stage: ready, when: {same: [site]}'],
      ['claim: enough, at_least: 0.9, when: {same: [heads]}', 'claim: needs, when: {same: [site]}'],
    ),
  ).toMatchInlineSnapshot(`
    [
      "claim: enough, when: {same: [rev]}  |  claim: needs, when: {same: [firmware]}  =>  a against b: a swap with two different \`firmware\` and the same \`rev\` on both",
      "claim: enough, when: {same: [rev]}  |  claim: needs, when: {same: [board]}  =>  apart",
      "claim: enough, when: {same: [firmware, site]}  |  claim: prevents, when: {different: [heads]}  =>  a against b: a swap with the same \`firmware\` on both, the same \`site\` on both and \`heads\` \`1\` on the patient and \`2\` on the donor",
      "claim: enough, when: {same: [firmware]}  |  claim: enough, when: {same: [firmware, site]}  =>  b follows from a",
      "claim: needs, when: {same: [firmware, site]}  |  claim: needs, when: {same: [site]}  =>  b follows from a",
      "claim: needs, when: {same: [site]}  |  claim: prevents, when: {different: [site]}  =>  b is a",
      "claim: enough, when: {patient: {heads: 4}}  |  claim: prevents, when: {donor: {heads: {from: 2, to: 4}}}  =>  a against b: a swap with \`heads\` \`4\` on the patient and \`2\` on the donor",
      "claim: enough, when: {patient: {heads: {from: 2}}}  |  claim: needs, when: {patient: {heads: {from: 2, to: 4}}}  =>  a against b: a swap with \`heads\` \`5\` on the patient",
      "claim: enough, when: {patient: {site: KL}, donor: {site: [SB, KL]}}  |  claim: prevents, when: {same: [site]}  =>  a against b: a swap with \`site\` \`KL\` on both",
      "claim: enough, when: {any: [{same: [heads]}, {same: [site]}]}  |  claim: needs, when: {all: [{same: [heads]}, {same: [model]}]}  =>  a against b: a swap with two different \`model\` and the same \`site\` on both",
      "claim: enough, when: {none: [{different: [heads]}, {patient: {heads: 2}}]}  |  claim: prevents, when: {donor: {heads: [2, 4]}}  =>  a against b: a swap with \`heads\` \`4\` on both",
      "claim: prevents, when: {none: [{same: [site]}]}  |  claim: needs, when: {same: [site]}  =>  b is a",
      "claim: enough, stage: ready, when: {same: [heads]}  |  claim: needs, stage: reads, when: {same: [site]}  =>  apart",
      "claim: enough, stage: reads, when: {same: [heads]}  |  claim: needs, stage: ready, when: {same: [site]}  =>  a against b: a swap with two different \`site\` and \`heads\` \`1\` on both",
      "claim: enough, at_least: 0.9, when: {same: [heads]}  |  claim: needs, when: {same: [site]}  =>  apart",
    ]
  `);
});

it('knows what revisions carry and claim', () => {
  expect(
    told(
      ['claim: enough, when: {same: [rev]}', 'claim: needs, when: {same: [controller]}'],
      ['claim: enough, when: {same: [rev]}', 'claim: needs, when: {same: [contact_pads]}'],
      ['claim: enough, when: {same: [rev], donor: {board: kestrel}}', 'claim: needs, when: {same: [controller]}'],
      ['claim: enough, when: {same: [rev], donor: {rev: kestrel/A1}}', 'claim: needs, when: {same: [controller]}'],
      [
        'claim: enough, when: {revision: drop_in, patient: {rev: kestrel/B1}}',
        'claim: needs, when: {same: [controller]}',
      ],
      [
        'claim: enough, when: {revision: drop_in, patient: {rev: kestrel/B1}}',
        'claim: needs, when: {same: [contact_pads]}',
      ],
      [
        'claim: enough, when: {revision: drop_in, donor: {rev: kestrel/C1}}',
        'claim: prevents, when: {revision: other}',
      ],
      ['claim: enough, when: {revision: drop_in}', 'claim: prevents, when: {different: [rev]}'],
      ['claim: enough, when: {revision: drop_in, donor: {board: merlin}}', 'claim: prevents, when: {different: [rev]}'],
      ['claim: enough, when: {revision: other}', 'claim: prevents, when: {revision: drop_in}'],
      ['claim: enough, when: {revision: same}', 'claim: prevents, when: {different: [motor_driver]}'],
      ['claim: enough, when: {patient: {rev: kestrel/A1}}', 'claim: prevents, when: {patient: {controller: KR1}}'],
      ['claim: enough, when: {patient: {rev: kestrel/A1}}', 'claim: prevents, when: {patient: {controller: KR2}}'],
      ['claim: enough, when: {patient: {rev: kestrel/C1}}', 'claim: prevents, when: {patient: {controller: KR2}}'],
      ['claim: enough, when: {patient: {rev: kestrel/C1}}', 'claim: needs, when: {patient: {controller: [KR1, KR2]}}'],
      ['claim: enough, when: {patient: {contact_pads: 20}}', 'claim: prevents, when: {patient: {board: kestrel}}'],
      [
        'claim: enough, when: {patient: {rev: [kestrel/A1, kestrel/B1]}}',
        'claim: prevents, when: {donor: {rev: merlin/A1}}',
      ],
      [
        'claim: enough, when: {patient: {rev: kestrel/A1}, donor: {rev: kestrel/B1}}',
        'claim: needs, when: {same: [board]}',
      ],
      ['claim: enough, when: {different: [controller]}', 'claim: prevents, when: {same: [rev]}'],
      ['claim: needs, when: {revision: same}', 'claim: needs, when: {revision: drop_in}'],
      ['claim: enough, when: {patient: {rom_package: soic16}}', 'claim: prevents, when: {different: [rom_package]}'],
    ),
  ).toMatchInlineSnapshot(`
    [
      "claim: enough, when: {same: [rev]}  |  claim: needs, when: {same: [controller]}  =>  a against b: a swap with \`rev\` \`kestrel/C1\` on both and \`controller\` \`KR1\` on the patient and \`KR2\` on the donor",
      "claim: enough, when: {same: [rev]}  |  claim: needs, when: {same: [contact_pads]}  =>  apart",
      "claim: enough, when: {same: [rev], donor: {board: kestrel}}  |  claim: needs, when: {same: [controller]}  =>  a against b: a swap with \`rev\` \`kestrel/C1\` on both and \`controller\` \`KR1\` on the patient and \`KR2\` on the donor",
      "claim: enough, when: {same: [rev], donor: {rev: kestrel/A1}}  |  claim: needs, when: {same: [controller]}  =>  apart",
      "claim: enough, when: {revision: drop_in, patient: {rev: kestrel/B1}}  |  claim: needs, when: {same: [controller]}  =>  a against b: a swap with \`rev\` \`kestrel/B1\` on the patient and \`kestrel/A1\` on the donor and the donor's revision a drop-in for the patient's",
      "claim: enough, when: {revision: drop_in, patient: {rev: kestrel/B1}}  |  claim: needs, when: {same: [contact_pads]}  =>  a against b: a swap with \`rev\` \`kestrel/B1\` on the patient and another revision of board \`kestrel\` on the donor, \`contact_pads\` \`0\` on the donor and the donor's revision a drop-in for the patient's",
      "claim: enough, when: {revision: drop_in, donor: {rev: kestrel/C1}}  |  claim: prevents, when: {revision: other}  =>  apart",
      "claim: enough, when: {revision: drop_in}  |  claim: prevents, when: {different: [rev]}  =>  a against b: a swap with two revisions of one board and the donor's revision a drop-in for the patient's",
      "claim: enough, when: {revision: drop_in, donor: {board: merlin}}  |  claim: prevents, when: {different: [rev]}  =>  apart",
      "claim: enough, when: {revision: other}  |  claim: prevents, when: {revision: drop_in}  =>  apart",
      "claim: enough, when: {revision: same}  |  claim: prevents, when: {different: [motor_driver]}  =>  apart",
      "claim: enough, when: {patient: {rev: kestrel/A1}}  |  claim: prevents, when: {patient: {controller: KR1}}  =>  a against b: a swap with \`rev\` \`kestrel/A1\` on the patient",
      "claim: enough, when: {patient: {rev: kestrel/A1}}  |  claim: prevents, when: {patient: {controller: KR2}}  =>  apart",
      "claim: enough, when: {patient: {rev: kestrel/C1}}  |  claim: prevents, when: {patient: {controller: KR2}}  =>  a against b: a swap with \`rev\` \`kestrel/C1\` on the patient and \`controller\` \`KR2\` on the patient",
      "claim: enough, when: {patient: {rev: kestrel/C1}}  |  claim: needs, when: {patient: {controller: [KR1, KR2]}}  =>  apart",
      "claim: enough, when: {patient: {contact_pads: 20}}  |  claim: prevents, when: {patient: {board: kestrel}}  =>  a against b: a swap with \`rev\` \`kestrel/C1\` on the patient",
      "claim: enough, when: {patient: {rev: [kestrel/A1, kestrel/B1]}}  |  claim: prevents, when: {donor: {rev: merlin/A1}}  =>  a against b: a swap with \`rev\` \`kestrel/A1\` on the patient and \`merlin/A1\` on the donor",
      "claim: enough, when: {patient: {rev: kestrel/A1}, donor: {rev: kestrel/B1}}  |  claim: needs, when: {same: [board]}  =>  apart",
      "claim: enough, when: {different: [controller]}  |  claim: prevents, when: {same: [rev]}  =>  a against b: a swap with \`rev\` \`kestrel/C1\` on both and \`controller\` \`KR1\` on the patient and \`KR2\` on the donor",
      "claim: needs, when: {revision: same}  |  claim: needs, when: {revision: drop_in}  =>  b follows from a",
      "claim: enough, when: {patient: {rom_package: soic16}}  |  claim: prevents, when: {different: [rom_package]}  =>  a against b: a swap with two different boards and \`rom_package\` \`soic16\` on the patient and \`soic8_150mil\` on the donor",
    ]
  `);
});

it('knows families, their makers and where adaptives are kept', () => {
  expect(
    told(
      ['claim: enough, when: {rom_travels: true}', 'claim: prevents, when: {family_is: {adaptives: rom_chip}}'],
      ['claim: enough, when: {rom_travels: true}', 'claim: prevents, when: {family_is: {adaptives: platters}}'],
      ['claim: enough, when: {rom_travels: false}', 'claim: prevents, when: {family_is: {adaptives: platters}}'],
      [
        'claim: enough, when: {rom_travels: false}, applies_to: {families: [tern-3]}',
        'claim: prevents, when: {same: [site]}',
      ],
      [
        'claim: enough, when: {rom_travels: false}, applies_to: {families: [tern-2]}',
        'claim: prevents, when: {same: [site]}',
      ],
      [
        'claim: enough, when: {same: [site]}, applies_to: {families: [tern-2]}',
        'claim: needs, when: {same: [heads]}, applies_to: {makers: [lark]}',
      ],
      [
        'claim: enough, when: {same: [site]}, applies_to: {families: [tern-2]}',
        'claim: needs, when: {same: [heads]}, applies_to: {makers: [wren]}',
      ],
      [
        'claim: enough, when: {same: [site]}, applies_to: {families: [tern-2]}',
        'claim: needs, when: {same: [heads]}, applies_to: {families: [tern-3]}',
      ],
      [
        'claim: enough, when: {same: [site]}, applies_to: {families: [tern-2, tern-3]}',
        'claim: needs, when: {same: [heads]}, applies_to: {families: [tern-3]}',
      ],
      ['claim: enough, when: {family_is: {interface: sata}}', 'claim: prevents, when: {same: [site]}'],
      ['claim: enough, when: {family_is: {interface: sata}}', 'claim: prevents, when: {family_is: {interface: sas}}'],
      [
        'claim: enough, when: {family_is: {interface: sas}}, applies_to: {families: [tern-2]}',
        'claim: prevents, when: {same: [site]}',
      ],
      [
        'claim: enough, when: {family_is: {interface: sas}}, applies_to: {families: [tern-3]}',
        'claim: prevents, when: {same: [site]}',
      ],
      ['claim: enough, when: {same: [family]}, applies_to: {makers: [lark]}', 'claim: needs, when: {same: [heads]}'],
      [
        'claim: needs, when: {same: [heads]}, applies_to: {makers: [wren]}',
        'claim: needs, when: {same: [heads]}, applies_to: {families: [tern-2]}',
      ],
      ['claim: needs, when: {same: [heads]}', 'claim: needs, when: {same: [heads]}, applies_to: {families: [tern-2]}'],
      [
        'claim: enough, when: {same: [firmware]}, applies_to: {makers: [merganser]}',
        'claim: needs, when: {same: [heads]}',
      ],
    ),
  ).toMatchInlineSnapshot(`
    [
      "claim: enough, when: {rom_travels: true}  |  claim: prevents, when: {family_is: {adaptives: rom_chip}}  =>  a against b: a swap with family \`tern-2\` and \`rom\` \`chip_moved\`",
      "claim: enough, when: {rom_travels: true}  |  claim: prevents, when: {family_is: {adaptives: platters}}  =>  a against b: a swap with family \`tern-3\`",
      "claim: enough, when: {rom_travels: false}  |  claim: prevents, when: {family_is: {adaptives: platters}}  =>  apart",
      "claim: enough, when: {rom_travels: false}, applies_to: {families: [tern-3]}  |  claim: prevents, when: {same: [site]}  =>  a never-met",
      "claim: enough, when: {rom_travels: false}, applies_to: {families: [tern-2]}  |  claim: prevents, when: {same: [site]}  =>  a against b: a swap with family \`tern-2\`, the same \`site\` on both and \`rom\` \`left\`",
      "claim: enough, when: {same: [site]}, applies_to: {families: [tern-2]}  |  claim: needs, when: {same: [heads]}, applies_to: {makers: [lark]}  =>  apart",
      "claim: enough, when: {same: [site]}, applies_to: {families: [tern-2]}  |  claim: needs, when: {same: [heads]}, applies_to: {makers: [wren]}  =>  a against b: a swap with family \`tern-2\`, the same \`site\` on both and \`heads\` \`1\` on the patient and \`2\` on the donor",
      "claim: enough, when: {same: [site]}, applies_to: {families: [tern-2]}  |  claim: needs, when: {same: [heads]}, applies_to: {families: [tern-3]}  =>  apart",
      "claim: enough, when: {same: [site]}, applies_to: {families: [tern-2, tern-3]}  |  claim: needs, when: {same: [heads]}, applies_to: {families: [tern-3]}  =>  a against b: a swap with family \`tern-3\`, the same \`site\` on both and \`heads\` \`1\` on the patient and \`2\` on the donor",
      "claim: enough, when: {family_is: {interface: sata}}  |  claim: prevents, when: {same: [site]}  =>  a against b: a swap with family \`tern-2\` and the same \`site\` on both",
      "claim: enough, when: {family_is: {interface: sata}}  |  claim: prevents, when: {family_is: {interface: sas}}  =>  apart",
      "claim: enough, when: {family_is: {interface: sas}}, applies_to: {families: [tern-2]}  |  claim: prevents, when: {same: [site]}  =>  a never-met",
      "claim: enough, when: {family_is: {interface: sas}}, applies_to: {families: [tern-3]}  |  claim: prevents, when: {same: [site]}  =>  a against b: a swap with family \`tern-3\`, \`interface\` \`sas\` and the same \`site\` on both",
      "claim: enough, when: {same: [family]}, applies_to: {makers: [lark]}  |  claim: needs, when: {same: [heads]}  =>  a against b: a swap with family \`gull-1\`, \`heads\` \`1\` on the patient and \`2\` on the donor and \`family\` \`gull-1\` on the donor",
      "claim: needs, when: {same: [heads]}, applies_to: {makers: [wren]}  |  claim: needs, when: {same: [heads]}, applies_to: {families: [tern-2]}  =>  b follows from a",
      "claim: needs, when: {same: [heads]}  |  claim: needs, when: {same: [heads]}, applies_to: {families: [tern-2]}  =>  b follows from a",
      "claim: enough, when: {same: [firmware]}, applies_to: {makers: [merganser]}  |  claim: needs, when: {same: [heads]}  =>  apart",
    ]
  `);
});

it('knows days of manufacture and hours', () => {
  expect(
    told(
      ['claim: enough, when: {made_within_weeks: 4}', 'claim: needs, when: {made_within_weeks: 8}'],
      ['claim: enough, when: {made_within_weeks: 8}', 'claim: needs, when: {made_within_weeks: 4}'],
      ['claim: needs, when: {made_within_weeks: 4}', 'claim: needs, when: {made_within_weeks: 8}'],
      [
        'claim: enough, when: {patient: {made: {from: 2026-01}}}',
        'claim: needs, when: {patient: {made: {to: 2026-03}}}',
      ],
      [
        'claim: enough, when: {patient: {made: 2026-01}}, applies_to: {made: {to: 2025-12}}',
        'claim: needs, when: {same: [site]}',
      ],
      [
        'claim: enough, when: {same: [site]}, applies_to: {made: {from: 2026-01}}',
        'claim: needs, when: {same: [heads]}, applies_to: {made: {to: 2026-01}}',
      ],
      [
        'claim: enough, when: {same: [site]}, applies_to: {made: {from: 2026-02}}',
        'claim: needs, when: {same: [heads]}, applies_to: {made: {to: 2026-01}}',
      ],
      [
        'claim: enough, when: {patient: {power_on_hours: {to: 100}}}',
        'claim: prevents, when: {patient: {power_on_hours: {from: 50}}}',
      ],
    ),
  ).toMatchInlineSnapshot(`
    [
      "claim: enough, when: {made_within_weeks: 4}  |  claim: needs, when: {made_within_weeks: 8}  =>  apart",
      "claim: enough, when: {made_within_weeks: 8}  |  claim: needs, when: {made_within_weeks: 4}  =>  a against b: a swap with \`made\` \`2010-01-01\` on the patient and \`2010-01-30\` on the donor",
      "claim: needs, when: {made_within_weeks: 4}  |  claim: needs, when: {made_within_weeks: 8}  =>  b follows from a",
      "claim: enough, when: {patient: {made: {from: 2026-01}}}  |  claim: needs, when: {patient: {made: {to: 2026-03}}}  =>  a against b: a swap with \`made\` \`2026-04-01\` on the patient",
      "claim: enough, when: {patient: {made: 2026-01}}, applies_to: {made: {to: 2025-12}}  |  claim: needs, when: {same: [site]}  =>  a never-met",
      "claim: enough, when: {same: [site]}, applies_to: {made: {from: 2026-01}}  |  claim: needs, when: {same: [heads]}, applies_to: {made: {to: 2026-01}}  =>  a against b: a swap with the same \`site\` on both, \`heads\` \`1\` on the patient and \`2\` on the donor and \`made\` \`2026-01-01\` on the patient",
      "claim: enough, when: {same: [site]}, applies_to: {made: {from: 2026-02}}  |  claim: needs, when: {same: [heads]}, applies_to: {made: {to: 2026-01}}  =>  apart",
      "claim: enough, when: {patient: {power_on_hours: {to: 100}}}  |  claim: prevents, when: {patient: {power_on_hours: {from: 50}}}  =>  a against b: a swap with \`power_on_hours\` \`50\` on the patient",
    ]
  `);
});

it('names what nothing can meet or break', () => {
  expect(
    told(
      [
        'claim: needs, when: {all: [{same: [site]}, {different: [site]}]}',
        'claim: prevents, when: {any: [{same: [site]}, {different: [site]}]}',
      ],
      [
        'claim: enough, when: {patient: {heads: {from: 5, to: 2}}}',
        'claim: needs, when: {none: [{patient: {heads: {from: 5, to: 2}}}]}',
      ],
      [
        'claim: needs, when: {same: [heads]}, applies_to: {families: [tern-2], makers: [lark]}',
        'claim: enough, when: {revision: drop_in, donor: {board: merlin}}',
      ],
      [
        'claim: prevents, when: {rom_travels: false}, applies_to: {families: [tern-3]}',
        'claim: needs, when: {rom_travels: true}, applies_to: {families: [tern-3]}',
      ],
    ),
  ).toMatchInlineSnapshot(`
    [
      "claim: needs, when: {all: [{same: [site]}, {different: [site]}]}  |  claim: prevents, when: {any: [{same: [site]}, {different: [site]}]}  =>  a never-met",
      "claim: enough, when: {patient: {heads: {from: 5, to: 2}}}  |  claim: needs, when: {none: [{patient: {heads: {from: 5, to: 2}}}]}  =>  a never-met; b never-broken",
      "claim: needs, when: {same: [heads]}, applies_to: {families: [tern-2], makers: [lark]}  |  claim: enough, when: {revision: drop_in, donor: {board: merlin}}  =>  a scope",
      "claim: prevents, when: {rom_travels: false}, applies_to: {families: [tern-3]}  |  claim: needs, when: {rom_travels: true}, applies_to: {families: [tern-3]}  =>  a never-met; b never-broken",
    ]
  `);
});
