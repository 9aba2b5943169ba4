import { describe, expect, it } from 'vitest';
import { claimWords } from '../../server/src/core/reasoning/claim-words.ts';
import { describeJointSet } from '../../server/src/core/reasoning/describe-joint-set.ts';
import { mentionsOf } from '../../server/src/core/reasoning/mentions.ts';
import { isInScope, rulesOf, severityOf } from '../../server/src/core/reasoning/rule.ts';
import { relationOf } from '../../server/src/core/reasoning/rule-results.ts';
import { canScopesMeet } from '../../server/src/core/reasoning/rule-scopes.ts';
import { allEvidence } from '../../server/src/core/verdicts/evidence.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';
import { swapBase } from '../harness/swap-base.ts';

function rulesIn(...lines: readonly string[]) {
  return rulesOf(
    snapshotOf(Object.fromEntries(lines.map((line, n) => [`${n}.yaml`, `kind: rule\nid: r-${n}\n${line}`]))),
  );
}

describe('a rule', () => {
  it('is taken as written, at its own stage or at that of the base', () => {
    const [one, two, three] = rulesIn(
      'claim: needs\nwhen: {same: [heads]}',
      'claim: prevents\nstage: spins\nat_least: 0.9\nwhen: {same: [heads]}\nexceptions: [{outcome: o-1, because: x}, {outcome: o-2, because: y}]',
      'claim: enough\nwhen: {same: [site]}\nstage: detected',
    );
    expect([one!.claim, one!.stage, one!.atLeast, [...one!.exceptions]]).toEqual(['needs', 'reads', undefined, []]);
    expect([two!.claim, two!.stage, two!.atLeast, [...two!.exceptions]]).toEqual([
      'prevents',
      'spins',
      0.9,
      ['o-1', 'o-2'],
    ]);
    expect([three!.claim, three!.stage]).toEqual(['enough', 'detected']);
    expect(claimWords(one!, 'a swap')).toBe('a swap needs `same: [heads]`');
    expect(claimWords(two!, 'a swap')).toBe('`same: [heads]` prevents it');
    expect(claimWords(three!, 'it')).toBe('`same: [site]` is enough');
  });

  it.each([
    ['without a claim', 'when: {same: [heads]}'],
    ['without a condition', 'claim: needs'],
    ['retracted', 'claim: needs\nwhen: {same: [heads]}\nretracted: {on: 2026-03-14, because: wrong}'],
    ['with a condition that cannot be read', 'claim: needs\nwhen: {same: heads}'],
    ['with a stage that is none', 'claim: needs\nstage: flies\nwhen: {same: [heads]}'],
    ['with a scope that cannot be read', 'claim: needs\nwhen: {same: [heads]}\napplies_to: {families: 3}'],
    ['with a rate that is none', 'claim: needs\nwhen: {same: [heads]}\nat_least: often'],
    ['with an exception of no outcome', 'claim: needs\nwhen: {same: [heads]}\nexceptions: [{because: x}]'],
    ['with exceptions that cannot be read', 'claim: needs\nwhen: {same: [heads]}\nexceptions: o-1'],
  ])('is left alone %s', (_, lines) => expect(rulesIn(lines)).toEqual([]));

  it('has the patients in its scope that its families, makers and dates take in, as far as they are known', () => {
    const scopes = [
      'families: [tern-2]',
      'families: [tern-3]',
      'families: [tern-3, tern-2]',
      'makers: [wren]',
      'makers: [crake]',
      'made: {from: 2026-01}',
      'made: {to: 2025-12-31}',
      'families: [tern-3]\n  made: {from: 2026-01}',
      'families: []\n  makers: []',
    ];
    const rules = rulesIn(...scopes.map((scope) => `claim: needs\nwhen: {same: [heads]}\napplies_to:\n  ${scope}`));
    const standing = (patient: string, family = '') => {
      const base = swapBase({ patient });
      const texts =
        family === '' ? base : { ...base, 'drives/a.yaml': base['drives/a.yaml']!.replace('family: tern-2\n', family) };
      const [evidence] = allEvidence(snapshotOf(texts));
      return rules.map((rule) => isInScope(rule, evidence!.swap!.patient));
    };
    expect(standing('made: 2026-02')).toEqual([true, false, true, true, false, true, false, false, true]);
    expect(standing('made: 2025-06')).toEqual([true, false, true, true, false, false, true, false, true]);
    expect(standing('')).toEqual([true, false, true, true, false, undefined, undefined, false, true]);
    const unknown = standing('made: 2026-02', '\n');
    expect(unknown).toEqual([undefined, undefined, undefined, undefined, undefined, true, false, undefined, true]);
  });

  it('makes errors where all rules were measured or are the word of a maker', () => {
    const [measured, word, seen, guess] = rulesIn(
      ...['measured', 'maker_document', 'anecdote', 'x'].map(
        (basis) => `claim: needs\nwhen: {same: [heads]}\nbasis: ${basis}`,
      ),
    );
    expect(severityOf([measured!])).toBe('error');
    expect(severityOf([measured!, word!])).toBe('error');
    expect(severityOf([word!, seen!])).toBe('warning');
    expect(severityOf([guess!])).toBe('warning');
    expect(severityOf([])).toBe('error');
  });
});

// Source: the table of claims in the design; truth tables of three implications.
it.each([
  ['needs', true, true, 'support'],
  ['needs', true, false, 'against'],
  ['needs', false, true, 'neutral'],
  ['needs', false, false, 'support'],
  ['enough', true, true, 'support'],
  ['enough', true, false, 'neutral'],
  ['enough', false, true, 'against'],
  ['enough', false, false, 'neutral'],
  ['prevents', true, true, 'against'],
  ['prevents', true, false, 'support'],
  ['prevents', false, true, 'support'],
  ['prevents', false, false, 'neutral'],
] as const)('%s, works %j, condition %j: %s', (claim, works, condition, relation) => {
  expect(relationOf(claim, works, condition)).toBe(relation);
});

it('tells what scope and condition speak of', () => {
  const told = (...lines: readonly string[]) => {
    const { families, makers, boards, revisions, sideKeys, facts, comparesRevisions, spelling } = mentionsOf(
      rulesIn(...lines),
    );
    return {
      ...{ families: [...families], makers: [...makers], boards: [...boards], revisions: [...revisions] },
      ...{ sideKeys: [...sideKeys], facts: [...facts], comparesRevisions, spelling: [...spelling] },
    };
  };
  const nothing = {
    ...{ families: [], makers: [], boards: [], revisions: [], sideKeys: [], facts: [] },
    ...{ comparesRevisions: false, spelling: [] },
  };
  expect(told()).toEqual(nothing);
  expect(told('claim: needs\nwhen: {same: [heads]}')).toEqual({ ...nothing, sideKeys: ['heads'] });
  expect(told('claim: needs\nwhen: {different: [rev]}')).toEqual({
    ...{ ...nothing, sideKeys: ['rev', 'board'], comparesRevisions: true },
  });
  expect(told('claim: needs\nwhen: {revision: drop_in}')).toMatchObject({
    sideKeys: ['rev', 'board'],
    comparesRevisions: true,
  });
  expect(told('claim: needs\nwhen: {rom_travels: true}')).toEqual({ ...nothing, facts: ['adaptives'] });
  expect(told('claim: needs\nwhen: {made_within_weeks: 8}')).toEqual({ ...nothing, sideKeys: ['made'] });
  expect(told('claim: needs\nwhen: {patient: {site: "K  L", heads: 4}}')).toEqual({
    ...{ ...nothing, sideKeys: ['site', 'heads'], spelling: [['k l', 'K  L']] },
  });
  expect(told('claim: needs\nwhen: {patient: {rev: w100/A}, donor: {board: w200, family: tern-3}}')).toEqual({
    ...{ ...nothing, families: ['tern-3'], boards: ['w100', 'w200'], revisions: ['w100/a'] },
    ...{ sideKeys: ['rev', 'board', 'family'] },
    spelling: [
      ['w100/a', 'w100/A'],
      ['a', 'A'],
      ['w200', 'w200'],
      ['tern-3', 'tern-3'],
    ],
  });
  expect(
    told('claim: needs\napplies_to: {families: [tern-2], makers: [wren], made: {from: 2026}}\nwhen: {same: [heads]}'),
  ).toEqual({
    ...{ ...nothing, families: ['tern-2'], makers: ['wren'], sideKeys: ['family', 'made', 'heads'] },
  });
});

it.each([
  ['{}', '{}', true],
  ['{families: [tern-2]}', '{}', true],
  ['{families: [tern-2]}', '{families: [tern-3]}', false],
  ['{families: [tern-2, tern-3]}', '{families: [tern-3]}', true],
  ['{makers: [wren]}', '{makers: [lark]}', false],
  ['{makers: [wren]}', '{makers: [lark, wren]}', true],
  ['{families: [tern-2]}', '{makers: [lark]}', false],
  ['{makers: [lark]}', '{families: [tern-2]}', false],
  ['{families: [tern-2]}', '{makers: [wren]}', true],
  ['{families: [tern-2, gull-1]}', '{makers: [lark]}', true],
  ['{families: [nobody]}', '{makers: [lark]}', true],
  ['{made: {from: 2026-01}}', '{made: {to: 2025-12}}', false],
  ['{made: {to: 2025-12}}', '{made: {from: 2026-01}}', false],
  ['{made: {from: 2026-01}}', '{made: {to: 2026-01-01}}', true],
  ['{made: {from: 2026-01, to: 2026-03}}', '{made: {from: 2026-04}}', false],
  ['{made: {from: 2026-01}}', '{made: {from: 2026-04}}', true],
])('scopes %s and %s share a patient: %j', (one, other, canMeet) => {
  const snapshot = snapshotOf({
    'more.yaml': ['tern-2', 'tern-3', 'gull-1']
      .map((id) => `{kind: family, id: ${id}, maker: ${id === 'gull-1' ? 'lark' : 'wren'}, name: ${id}}`)
      .join('\n---\n'),
    'rules.yaml': [one, other]
      .map((scope, n) => `{kind: rule, id: r-${n}, claim: needs, when: {same: [heads]}, applies_to: ${scope}}`)
      .join('\n---\n'),
  });
  const [a, b] = rulesOf(snapshot);
  expect(canScopesMeet(a!, b!, snapshot)).toBe(canMeet);
});

it('says what cannot all be right, in one sentence', () => {
  const [needs, enough, prevents] = rulesIn(
    'claim: needs\nwhen: {same: [preamp]}',
    'claim: enough\nwhen: {same: [site]}',
    'claim: prevents\nwhen: {same: [heads]}\nstage: spins',
  );
  const outcome = (id: string) => ({ outcome: { id } });
  const setOf = (pairs: readonly (readonly [unknown, string])[], assumptions: readonly object[] = []) =>
    describeJointSet({
      rules: [...new Set(pairs.map(([rule]) => rule))],
      outcomes: [...new Set(pairs.map(([, id]) => id))].map(outcome),
      assumptions,
      pairs: pairs.map(([rule, id]) => ({ rule, evidence: outcome(id) })),
    } as never);
  expect(setOf([[needs, 'a']])).toBe(
    'Outcome `a` cannot be right if rule `r-0` holds: `a` works at `reads`, which by `r-0` takes `same: [preamp]`.',
  );
  expect(
    setOf([
      [needs, 'a'],
      [needs, 'b'],
      [enough, 'c'],
    ]),
  ).toBe(
    'Outcomes `a`, `b` and `c` cannot all be right if rules `r-0` and `r-1` hold: `a` and `b` work at `reads`, which by `r-0` takes `same: [preamp]`; `c` fails at `reads`, which by `r-1` rules out `same: [site]`.',
  );
  expect(
    setOf(
      [
        [prevents, 'a'],
        [enough, 'a'],
      ],
      [{ board: 'w100', rev: 'A', key: 'controller' }],
    ),
  ).toBe(
    'Outcome `a` cannot be right if rules `r-2` and `r-1` hold and all boards of `w100/A` have the same `controller`: `a` works at `spins`, which by `r-2` rules out `same: [heads]`; `a` fails at `reads`, which by `r-1` rules out `same: [site]`.',
  );
});
