import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Fold, foldsOf } from '../../server/src/core/features/folds.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { laidOutYaml } from '../harness/arbitrary-laid-out-yaml.ts';
import { spoiltYaml } from '../harness/arbitrary-yaml.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { readFixtures } from '../harness/fixtures.ts';

const arbitraryText = fc.oneof(fc.constantFrom(...readFixtures().map(({ text }) => text)), laidOutYaml, spoiltYaml);

/** Tries a property of the folds of any text, whole or cut off. */
function assertOfFolds(check: (folds: readonly Fold[], text: string) => void): void {
  let seen = 0;
  assertLaw(
    400,
    fc.property(arbitraryText, fc.option(fc.nat()), (text, cut) => {
      const whole = cut === null ? text : text.slice(0, cut % (text.length + 1));
      const folds = foldsOf(readText(whole).tape);
      check(folds, whole);
      seen += folds.length;
    }),
  );
  expectOften(seen, 300);
}

describe('folds', () => {
  it('folds lie within the text and take up several lines', () => {
    assertOfFolds((folds, text) => {
      const lineCount = text.split(/\r\n|\r|\n/).length;
      for (const { startLine, endLine } of folds) {
        expect(startLine).toBeGreaterThanOrEqual(0);
        expect(endLine).toBeGreaterThan(startLine);
        expect(endLine).toBeLessThan(lineCount);
      }
    });
  });

  it('no two folds begin on one line', () => {
    assertOfFolds((folds) => {
      expect(new Set(folds.map(({ startLine }) => startLine)).size).toBe(folds.length);
    });
  });

  it('folds nest or share no line', () => {
    assertOfFolds((folds) => {
      for (const [position, a] of folds.entries()) {
        for (const b of folds.slice(position + 1)) {
          const isApart = a.endLine < b.startLine;
          const isInside = a.startLine < b.startLine && b.endLine <= a.endLine;
          expect(isApart || isInside).toBe(true);
        }
      }
    });
  });
});
