import { expect, it } from 'vitest';
import { candidateModels } from '../../server/src/core/reasoning/candidate-models.ts';
import { mentionsOf } from '../../server/src/core/reasoning/mentions.ts';
import { backgroundOf } from '../../server/src/core/reasoning/possible-swap.ts';
import { rulesOf } from '../../server/src/core/reasoning/rule.ts';
import type { Model } from '../../server/src/core/solver/solver.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

const base = {
  'families.yaml': [
    '{kind: family, id: tern-2, maker: wren, name: Tern 2, interface: sata, adaptives: {stored_in: platters}}',
    '{kind: family, id: tern-3, maker: lark, name: Tern 3}',
  ].join('\n---\n'),
  'boards.yaml':
    '{kind: board, id: kestrel, maker: wren, part_number: K 1, revisions: [{rev: A1, controller: KR1}, {rev: B1, controller: [KR2, KR3]}]}',
};

/** The guesses for rules, value by value, from a start. */
function guesses(rules: readonly string[], start: Partial<Model> = {}): readonly string[] {
  const text = rules.map((rule, n) => `{kind: rule, id: r-${n}, claim: needs, ${rule}}`).join('\n---\n');
  const snapshot = snapshotOf({ ...base, 'rules.yaml': text });
  const mentions = mentionsOf(rulesOf(snapshot));
  const from: Model = { values: start.values ?? new Map(), flags: start.flags ?? new Map() };
  return [...candidateModels(from, mentions, backgroundOf(mentions, snapshot))].map(({ values, flags }) =>
    [...values, ...flags].map(([name, value]) => `${name} ${value}`).join(', '),
  );
}

it('fills in whatever the rules speak of, in three manners', () => {
  expect({
    'a key': guesses(['when: {same: [site]}']),
    'a number': guesses(['when: {same: [heads]}']),
    'one of a list': guesses(['when: {same: [rom_package]}']),
    'facts of a family': guesses(
      ['when: {family_is: {adaptives: rom_chip, interface: sata}}, applies_to: {families: [tern-2]}'],
      {
        values: new Map([['patient family', 'tern-2']]),
      },
    ),
    'facts nobody recorded': guesses(['when: {family_is: {adaptives: rom_chip}}'], {
      values: new Map([['patient family', 'tern-3']]),
    }),
    'a scope': guesses(['when: {same: [site]}, applies_to: {families: [tern-2], made: {from: 2026-01}}']),
    'a part of a revision': guesses(['when: {patient: {rev: kestrel/A1}}', 'when: {same: [controller]}'], {
      values: new Map([
        ['patient board', 'kestrel'],
        ['patient rev', 'a1'],
        ['donor board', 'kestrel'],
        ['donor rev', 'b1'],
      ]),
    }),
    'what is given': guesses(['when: {same: [site]}'], {
      values: new Map([['donor site', 'kl']]),
      flags: new Map([['rom travels', false]]),
    }),
    'both given': guesses(['when: {same: [site]}'], {
      values: new Map([
        ['donor site', 'kl'],
        ['patient site', 'new-1'],
      ]),
    }),
  }).toMatchInlineSnapshot(`
    {
      "a key": [
        "patient board new-1, donor board new-1, patient rev new-1, donor rev new-1, patient family new-1, donor family new-1, patient site new-1, donor site new-1, family maker new-1, rom travels true, claimed false",
        "patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, patient family new-1, donor family new-1, patient site new-1, donor site new-1, family maker new-1, rom travels true, claimed false",
        "patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, patient family new-1, donor family new-2, patient site new-1, donor site new-2, family maker new-1, rom travels false, claimed false",
      ],
      "a number": [
        "patient board new-1, donor board new-1, patient rev new-1, donor rev new-1, patient family new-1, donor family new-1, patient heads 1, donor heads 1, family maker new-1, rom travels true, claimed false",
        "patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, patient family new-1, donor family new-1, patient heads 1, donor heads 1, family maker new-1, rom travels true, claimed false",
        "patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, patient family new-1, donor family new-2, patient heads 1, donor heads 2, family maker new-1, rom travels false, claimed false",
      ],
      "a part of a revision": [
        "patient board kestrel, patient rev a1, donor board kestrel, donor rev b1, patient family new-1, donor family new-1, patient controller kr1, donor controller kr1, family maker new-1, rom travels true, claimed false",
        "patient board kestrel, patient rev a1, donor board kestrel, donor rev b1, patient family new-1, donor family new-1, patient controller kr1, donor controller kr1, family maker new-1, rom travels true, claimed false",
        "patient board kestrel, patient rev a1, donor board kestrel, donor rev b1, patient family new-1, donor family new-2, patient controller kr1, donor controller new-1, family maker new-1, rom travels false, claimed false",
      ],
      "a scope": [
        "patient board new-1, donor board new-1, patient rev new-1, donor rev new-1, patient family new-1, donor family new-1, patient made 14610, donor made 14610, patient site new-1, donor site new-1, family maker new-1, rom travels true, claimed false",
        "patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, patient family new-1, donor family new-1, patient made 14610, donor made 14610, patient site new-1, donor site new-1, family maker new-1, rom travels true, claimed false",
        "patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, patient family new-1, donor family new-2, patient made 14610, donor made 14611, patient site new-1, donor site new-2, family maker new-1, rom travels false, claimed false",
      ],
      "both given": [
        "donor site kl, patient site new-1, patient board new-1, donor board new-1, patient rev new-1, donor rev new-1, patient family new-1, donor family new-1, family maker new-1, rom travels true, claimed false",
        "donor site kl, patient site new-1, patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, patient family new-1, donor family new-1, family maker new-1, rom travels true, claimed false",
        "donor site kl, patient site new-1, patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, patient family new-1, donor family new-2, family maker new-1, rom travels false, claimed false",
      ],
      "facts nobody recorded": [
        "patient family tern-3, patient board new-1, donor board new-1, patient rev new-1, donor rev new-1, donor family tern-3, family adaptives rom_chip, family maker new-1, rom travels true, claimed false",
        "patient family tern-3, patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, donor family tern-3, family adaptives rom_chip, family maker new-1, rom travels true, claimed false",
        "patient family tern-3, patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, donor family new-1, family adaptives rom_chip, family maker new-1, rom travels false, claimed false",
      ],
      "facts of a family": [
        "patient family tern-2, patient board new-1, donor board new-1, patient rev new-1, donor rev new-1, donor family tern-2, family adaptives platters, family interface sata, family maker wren, rom travels true, claimed false",
        "patient family tern-2, patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, donor family tern-2, family adaptives platters, family interface sata, family maker wren, rom travels true, claimed false",
        "patient family tern-2, patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, donor family new-1, family adaptives platters, family interface sata, family maker wren, rom travels true, claimed false",
      ],
      "one of a list": [
        "patient board new-1, donor board new-1, patient rev new-1, donor rev new-1, patient family new-1, donor family new-1, patient rom_package soic8_150mil, donor rom_package soic8_150mil, family maker new-1, rom travels true, claimed false",
        "patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, patient family new-1, donor family new-1, patient rom_package soic8_150mil, donor rom_package soic8_150mil, family maker new-1, rom travels true, claimed false",
        "patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, patient family new-1, donor family new-2, patient rom_package soic8_150mil, donor rom_package soic8_208mil, family maker new-1, rom travels false, claimed false",
      ],
      "what is given": [
        "donor site kl, patient board new-1, donor board new-1, patient rev new-1, donor rev new-1, patient family new-1, donor family new-1, patient site kl, family maker new-1, rom travels false, claimed false",
        "donor site kl, patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, patient family new-1, donor family new-1, patient site kl, family maker new-1, rom travels false, claimed false",
        "donor site kl, patient board new-1, donor board new-2, patient rev new-1, donor rev new-2, patient family new-1, donor family new-2, patient site new-1, family maker new-1, rom travels false, claimed false",
      ],
    }
  `);
});
