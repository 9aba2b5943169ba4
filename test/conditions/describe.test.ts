import { describe, expect, it } from 'vitest';
import type { ConditionData } from '../../schemas/gen/records.ts';
import { describeFormula } from '../../server/src/core/conditions/describe.ts';
import { toFormula } from '../../server/src/core/conditions/formula.ts';

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

  it('keep maps apart that stand in different conditions', () => {
    expect(described({ any: [{ donor: { heads: 2 } }, { donor: { heads: 4 } }] })).toBe(
      'any: [{donor: {heads: 2}}, {donor: {heads: 4}}]',
    );
    expect(described({})).toBe('anything');
  });
});
