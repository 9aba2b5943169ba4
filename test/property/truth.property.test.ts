import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { andAll, not, orAny, type Truth } from '../../server/src/core/conditions/truth.ts';
import { assertLaw } from '../harness/assert-law.ts';

const truths = fc.array(fc.constantFrom<Truth>(true, false, undefined), { maxLength: 5 });

describe('truth', () => {
  it('learning a value never turns true into false', () => {
    assertLaw(
      1000,
      fc.property(truths, fc.nat(), fc.boolean(), (before, pick, value) => {
        const unknown = before.flatMap((truth, position) => (truth === undefined ? [position] : []));
        fc.pre(unknown.length > 0);
        const after = before.with(unknown[pick % unknown.length]!, value);
        for (const combine of [andAll, orAny, ([first]: readonly Truth[]) => not(first)]) {
          const decided = combine(before);
          if (decided !== undefined) expect(combine(after)).toBe(decided);
        }
      }),
    );
  });

  it('de Morgan holds', () => {
    assertLaw(
      1000,
      fc.property(truths, (parts) => {
        expect(not(andAll(parts))).toBe(orAny(parts.map(not)));
        expect(not(orAny(parts))).toBe(andAll(parts.map(not)));
      }),
    );
  });

  it('a conjunction is as true as its least true part', () => {
    const rank = (truth: Truth): number => [false, undefined, true].indexOf(truth);
    assertLaw(
      1000,
      fc.property(truths, (parts) => {
        expect(rank(andAll(parts))).toBe(Math.min(rank(true), ...parts.map(rank)));
      }),
    );
  });
});
