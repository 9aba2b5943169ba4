import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import type { ConditionData } from '../../schemas/gen/records.ts';
import { describeFormula } from '../../server/src/core/conditions/describe.ts';
import { type Formula, toFormula } from '../../server/src/core/conditions/formula.ts';

function described(condition: ConditionData): string {
  return describeFormula(toFormula(condition, []));
}

describe('conditions as text', () => {
  it('are as a rule has them: lists of conditions, and entries of one map together', () => {
    expect(described({ none: [{ same: ['rev'] }] })).toBe('none: [{same: [rev]}]');
    expect(described({ none: [{ same: ['rev'] }, { rom_travels: true }] })).toBe(
      'none: [{same: [rev]}, {rom_travels: true}]',
    );
    expect(described({ family_is: { encryption: 'always', adaptives: 'rom_chip' } })).toBe(
      'family_is: {encryption: always, adaptives: rom_chip}',
    );
    expect(described({ patient: { heads: 2, made: { from: 2012 } }, donor: { heads: [2, 4] } })).toBe(
      'patient: {heads: 2, made: {from: 2012}}, donor: {heads: [2, 4]}',
    );
  });

  it.each<ConditionData>([
    { different: ['rev'] },
    { rom_travels: false },
    { revision: 'drop_in' },
    { made_within_weeks: 8 },
    { none: [{ made_within_weeks: 8 }] },
    { patient: { made: { to: '2012-W40' } } },
    { same: ['site'], any: [{ rom_travels: true }, { family_is: { encryption: ['none', 'optional'] } }] },
  ])('are read from that text again: %j', (condition) => {
    expect(parse(`{${described(condition)}}`)).toEqual(condition);
  });

  it('keep maps apart that stand in different conditions', () => {
    expect(described({ any: [{ donor: { heads: 2 } }, { donor: { heads: 4 } }] })).toBe(
      'any: [{donor: {heads: 2}}, {donor: {heads: 4}}]',
    );
    expect(described({})).toBe('anything');
  });

  it('name what must not be of a negated map as a list of one', () => {
    expect(described({ revision: 'other' })).toBe('same: [board], none: [{revision: drop_in}]');
  });
});

describe('the places of what a condition asks for', () => {
  function places(formula: Formula): readonly string[] {
    if (formula.op === 'atom') return [formula.path.join('.')];
    return formula.op === 'not' ? places(formula.part) : formula.parts.flatMap(places);
  }

  it.each<readonly [ConditionData, readonly string[]]>([
    [{ same: ['rev', 'site'] }, ['when.same.0', 'when.same.1']],
    [{ different: ['rev', 'site'] }, ['when.different.0', 'when.different.1']],
    [{ rom_travels: false }, ['when.rom_travels']],
    [{ revision: 'other' }, ['when.revision', 'when.revision']],
    [{ made_within_weeks: 8 }, ['when.made_within_weeks']],
    [{ patient: { heads: 2 }, donor: { site: 'P' } }, ['when.patient.heads', 'when.donor.site']],
    [{ family_is: { encryption: 'none' } }, ['when.family_is.encryption']],
    [{ any: [{ same: ['rev'] }], none: [{ rom_travels: true }] }, ['when.any.0.same.0', 'when.none.0.rom_travels']],
  ])('of %j', (condition, expected) => {
    expect(places(toFormula(condition, ['when']))).toEqual(expected);
  });
});
