import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readGivenCondition } from '../../server/src/core/checks/given-condition.ts';
import { toFormula } from '../../server/src/core/conditions/formula.ts';
import { arbitraryCondition } from '../harness/arbitrary-condition.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

/** Whatever a condition names may stand in a file that cannot be read, so that nothing is said to be missing. */
const opaque = snapshotOf({ 'lost.yaml': new Uint8Array([0xff]) });

describe('given conditions', () => {
  it("a condition that a rule may have is read as that rule's", () => {
    assertLaw(
      200,
      fc.property(arbitraryCondition(2), (data) => {
        const condition = readGivenCondition(JSON.stringify(data), opaque);
        expect(condition).toEqual({ data, formula: toFormula(data, []) });
      }),
    );
  });

  it('reading never throws, whatever was typed', () => {
    const typed = fc.oneof(
      fc.string(),
      fc.string({
        unit: fc.constantFrom('{', '}', '[', ']', ':', ',', '\n', ' ', 'same', 'claim', 'rev', '"', '#', '&a', '*a'),
      }),
    );
    assertLaw(
      500,
      fc.property(typed, (text) => {
        const condition = readGivenCondition(`{${text}`, opaque);
        if ('message' in condition) expect(condition.message).toMatch(/\.$/);
        else expect(Object.keys(condition.data)).not.toContain('claim');
      }),
    );
  });
});
