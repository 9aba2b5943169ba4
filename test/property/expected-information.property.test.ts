import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectedInformation } from '../../server/src/core/trials/expected-information.ts';
import { assertLaw } from '../harness/assert-law.ts';

/** Some explanations: how far each is believed, coming to 1 together, and the chance of success each gives. */
const arbitraryExplanations = fc
  .array(fc.tuple(fc.integer({ min: 1, max: 1000 }), fc.integer({ min: 0, max: 100 })), { minLength: 1, maxLength: 8 })
  .map((list) => {
    const sum = list.reduce((total, [share]) => total + share, 0);
    return { weights: list.map(([share]) => share / sum), chances: list.map(([, percent]) => percent / 100) };
  });

describe('expected information', () => {
  it('it is what enumerating every explanation with every result gives', () => {
    assertLaw(
      300,
      fc.property(arbitraryExplanations, ({ weights, chances }) => {
        const joint = weights.flatMap((weight, n) => [
          { weight, result: 0, chance: weight * chances[n]! },
          { weight, result: 1, chance: weight * (1 - chances[n]!) },
        ]);
        const ofResult = [0, 1].map((wanted) =>
          joint.reduce((sum, { result, chance }) => sum + (result === wanted ? chance : 0), 0),
        );
        const told = joint.reduce((sum, { weight, result, chance }) => {
          return chance === 0 ? sum : sum + chance * Math.log2(chance / (weight * ofResult[result]!));
        }, 0);
        const { information, works } = expectedInformation(weights, chances);
        expect(information).toBeCloseTo(told, 9);
        expect(works).toBeCloseTo(ofResult[0]!, 12);
      }),
    );
  });

  it('it is never negative, and never more than the result itself is uncertain', () => {
    assertLaw(
      300,
      fc.property(arbitraryExplanations, ({ weights, chances }) => {
        const { information, works } = expectedInformation(weights, chances);
        const uncertain = [works, 1 - works].reduce((sum, p) => (p > 0 ? sum - p * Math.log2(p) : sum), 0);
        expect(information).toBeGreaterThanOrEqual(0);
        expect(information).toBeLessThanOrEqual(uncertain + 1e-12);
      }),
    );
  });
});
