import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CodeLens, codeLenses } from '../../server/src/core/features/code-lenses.ts';
import { arbitraryDamage, damageText } from '../harness/arbitrary-damage.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { openEach } from '../harness/open-at.ts';

const all = { rules: true, families: true };

describe('code lenses', () => {
  it('a lens stands at the first key of its record, and no two stand at one', () => {
    let seen = 0;
    assertLaw(
      150,
      fc.property(arbitraryFaultyFiles, (files) => {
        for (const file of openEach(files)) {
          const { text } = file.tape;
          const lenses = codeLenses(file, all);
          for (const { start, end } of lenses) expect(text.slice(start, end)).toMatch(/^"?[\w-]+"?$/);
          const starts = lenses.map(({ start }) => start);
          expect(starts).toEqual([...new Set(starts)].sort((a, b) => a - b));
          const roots = file.tape.documents.map(({ root }) => file.tape.entries[root + 1]?.keyStart);
          for (const start of starts) expect(roots).toContain(start);
          seen += lenses.length;
        }
      }),
    );
    expectOften(seen, 200);
  });

  it('no text, whole, cut off or damaged, makes it throw', () => {
    assertLaw(
      300,
      fc.property(arbitraryFaultyFiles, arbitraryDamage, fc.nat(), (files, damage, cut) => {
        const damaged = Object.entries(files).map(([path, text]) => [path, damageText(text, damage)] as const);
        const cutOff = damaged.map(([path, text]) => [path, text.slice(0, cut % (text.length + 1))]);
        for (const texts of [damaged, cutOff]) {
          for (const file of openEach(Object.fromEntries(texts))) codeLenses(file, all);
        }
      }),
    );
  });

  it('nothing is said before the base is indexed, and nothing that is not wanted', () => {
    const kindsOf = (lenses: readonly CodeLens[]): string[] => lenses.map(({ record }) => record.split('/')[0]!);
    assertLaw(
      60,
      fc.property(arbitraryFaultyFiles, (files) => {
        for (const file of openEach(files)) {
          expect(codeLenses({ ...file, isIndexed: false }, all)).toEqual([]);
          expect(kindsOf(codeLenses(file, { rules: false, families: true }))).not.toContain('rule');
          expect(kindsOf(codeLenses(file, { rules: true, families: false }))).not.toContain('family');
        }
      }),
    );
  });
});
